# A level that is turned round, limits by grade, a condition that only just
# holds, and a value that comes from another procedure.

procedure "bubble" {
  title    = "Level a table"
  machine  = "any"
  revision = "1"
  purpose  = "Read a level both ways round."
  decision = "guarded"
}

given "base" {
  ask   = "Level: length of its base"
  unit  = "mm"
  with  = instrument.rule
  range = [mm(50), mm(500)]
}
given "bed" {
  ask    = "Bed: how does it lie?"
  choose = ["level", "twisted"]
}
given "twist" {
  when  = given.bed == "twisted"
  title = "Twist of the bed"
  unit  = "um/m"
  from  = accepted["bed-twist"].result.twist
  fresh = days(30)
}

instrument "rule" {
  kind       = "steel rule"
  resolution = mm(1)
  error      = mm(1)
}
instrument "level" {
  kind       = "precision level"
  resolution = um(10) / m(1)
  error      = um(10) / m(1)
}

table "tables" {
  title  = "Tables"
  grades = ["fine", "coarse"]
  row "level" {
    title  = "Level of a table"
    values = { fine = um(40) / m(1), coarse = um(80) / m(1) }
    source = "shop rule, by grade"
  }
}

step "read" {
  title = "Read the level both ways round"
  reading "one" {
    ask      = "Level, arrow to the right"
    unit     = "um/m"
    with     = instrument.level
    positive = "right end high"
    range    = [um(-1000) / m(1), um(1000) / m(1)]
  }
  reading "other" {
    ask      = "Level, arrow to the left"
    unit     = "um/m"
    with     = instrument.level
    turned   = true
    positive = "right end high"
    range    = [um(-1000) / m(1), um(1000) / m(1)]
  }
  result "slope" {
    title    = "Slope of the table"
    value    = given.bed == "level" ? (reading.one + reading.other) / 2 : (reading.one + reading.other) / 2 - given.twist
    unit     = "um/m"
    positive = "right end high"
  }
  gate "flat" {
    title     = "The table is level"
    of        = result.slope
    within    = plus_minus(table.tables.level)
    if_failed = [reject]
  }
  result "tilt" {
    title    = "One end above the other, by the first way alone"
    value    = reading.one * given.base
    unit     = "um"
    positive = "right end high"
  }
  gate "ends" {
    title     = "Both ends are alike"
    of        = result.tilt
    within    = plus_minus(um(50))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "fitter" { title = "Carried out by" }
