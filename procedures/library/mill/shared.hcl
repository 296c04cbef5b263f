# What the procedures for milling machines share.

table "mill" {
  title  = "Geometric tests of a milling machine with a knee"
  grades = ["normal", "precision", "home"]

  row "head_lengthwise" {
    title  = "Spindle square to the table, front to rear, in 300 mm: front high, never low"
    values = { normal = um(25), precision = um(20), home = um(40) }
    source = "typical of ISO 1701, verify; precision and home: shop rule"
  }
  row "head_across" {
    title  = "Spindle square to the table, left to right, in 300 mm, either way"
    values = { normal = um(25), precision = um(15), home = um(40) }
    source = "typical of ISO 1701, verify; precision and home: shop rule"
  }
}

caution "head_swings" {
  text   = "A slack head swings by its own weight: hold it or prop it before a bolt is slackened. Slacken little. No finger between head and ram."
  hazard = "crushing"
  source = "trade practice; the maker's instructions come first"
}
