# What the procedures for drilling machines share.

table "drill" {
  title  = "Geometric tests of a pillar drilling machine"
  grades = ["normal", "home"]

  row "taper_near" {
    title  = "Run-out of the taper, near the nose"
    values = { normal = um(30), home = um(40) }
    source = "typical of ISO 2773, verify; home: shop rule"
  }
  row "taper_far" {
    title  = "Run-out of the taper, 300 mm from the nose"
    values = { normal = um(50), home = um(80) }
    source = "typical of ISO 2773, verify; home: shop rule"
  }
  row "table_lengthwise" {
    title  = "Table to the spindle, front to rear, in 300 mm: front high, never low"
    values = { normal = um(100), home = um(150) }
    source = "typical of ISO 2773, verify; home: shop rule"
  }
  row "table_across" {
    title  = "Table to the spindle, left to right, in 300 mm, either way"
    values = { normal = um(100), home = um(150) }
    source = "typical of ISO 2773, verify; home: shop rule"
  }
  row "feed" {
    title  = "Travel of the quill to the table, in 300 mm, either way"
    values = { normal = um(100), home = um(150) }
    source = "typical of ISO 2773, verify; home: shop rule"
  }
}

caution "table_drops" {
  text   = "A slack table drops or swings round the pillar: block under it before a clamp is opened. No hand between table and base."
  hazard = "crushing"
  source = "trade practice"
}
