# What the procedures of this folder share. Everything here is made up.

caution "hands_off" {
  text   = "Spindle off and isolated. Chips are swept with a brush, never with the hand."
  hazard = "sharp"
  source = "common practice"
}

instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(2)
  error         = um(5)
  repeatability = um(1)
  turn          = mm(0.2)
  source        = "DIN 2270"
}

table "vice" {
  title  = "A vice on a milling machine"
  grades = ["normal", "precision"]

  row "jaw_parallel" {
    title  = "Fixed jaw to the table's travel, in 100 mm"
    values = { normal = um(20), precision = um(15) }
    source = "shop rule"
  }
}

given "jaw" {
  ask   = "Fixed jaw: length"
  unit  = "mm"
  range = [mm(80), mm(250)]
}

step "clean" {
  title   = "Clean the jaw"
  caution = [caution.hands_off]
  do      = ["Wipe the jaw dry; draw a stone over it once, lightly."]
}

correction "stone_it" {
  title = "Stone the burr off, wipe, and try again"
  do    = ["Find the burr with a finger nail. Stone it flat, wipe."]
}

rehearsal "the shop's vice" {
  hidden { skew = um(120) }
  noise { jaw_end = um(1) }
  answer {
    jaw     = mm(150)
    jaw_end = each.end == "right" ? hidden.skew : um(0)
  }
  reacts "tap" { skew = hidden.skew + moved }
}
