# What the broken procedures of this folder share. Nothing is wrong here.

caution "rotating" {
  text   = "No gloves near the turning spindle. Chuck key out."
  hazard = "rotating"
}

instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(4)
  repeatability = um(1)
}

instrument "level" {
  kind          = "precision level"
  resolution    = um(5) / m(1)
  repeatability = um(2) / m(1)
}

table "limits" {
  grades = ["fine", "coarse"]
  row "bow" {
    values = { fine = um(5), coarse = um(20) }
    source = "shop rule"
  }
}
