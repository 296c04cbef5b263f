# A square against a column: an indicator goes up the column and reads the
# blade, then square and indicator are turned round to the column's other side.
# Half the sum is the square's own error; half the difference is the lean of the
# column, which drops out.

procedure "ref-square-reversal" {
  title    = "Square proved by turning it round"
  machine  = "any"
  revision = "1"
  purpose  = "Find by how much a square's blade leans, with nothing better than a straight column. Nothing is corrected: the error is taken off later, or the square is put aside."
  decision = "guarded"
  duration = hours(1)
  sources  = ["half the sum of the changes read on both sides of a column: derived here"]
}

given "height" {
  ask   = "Indicator: height it travels on the blade"
  unit  = "mm"
  range = [mm(60), mm(500)]
}
given "square_grade" {
  ask    = "Square: its grade by DIN 875"
  choose = ["00", "0", "1", "2"]
}

step "ready" {
  title   = "Plate, column and square at rest"
  lasting = true
  caution = [caution.plate_work]
  tools = [
    "surface plate, square, indicator of 0.001 mm (0.00005 in)",
    "a column with a slide that runs straight: height gauge, or a head on a vertical way",
  ]
  do = [
    "Wipe plate, sole and blade. Feel the sole for burrs, stone them off.",
    "Square, plate and column side by side for an hour: a warm blade leans.",
  ]
  confirm "straight" { ask = "Column: straight and without play in its slide?" }
  confirm "marked" { ask = "Plate: the square's place marked on both sides?" }
}

step "sweep" {
  title   = "Go up the blade, square ${each.side == "first" ? "on the first side" : "turned to the other side"}"
  caution = [caution.plate_work]
  each "side" { of = ["first", "other"] }
  do = [
    each.side == "first" ? "Stand the square in its marks, the back of its blade towards the column, its sole pointing away." : "Turn square AND indicator to the other side of the column. The back of the blade is read again.",
    "Touch the middle of the blade. Set the needle to about zero at the foot.",
    "Come to each height from below. Plus is the plunger pushed in: the blade comes nearer.",
    "Only the slide moves: not the square, not the arm of the indicator.",
  ]
  reading "blade" {
    each "place" { of = ["foot", "top"] }
    ask      = each.side == "first" ? "First side, ${each.place}: needle" : "Other side, ${each.place}: needle"
    unit     = "um"
    repeat   = 3
    with     = instrument.fine
    positive = "blade nearer to the indicator"
    nudge    = "towards the indicator"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    closure  = um(2)
    range    = [um(-300), um(300)]
  }
  result "change" {
    title    = "Needle, top less foot"
    value    = mean(reading.blade.top) - mean(reading.blade.foot)
    unit     = "um"
    positive = "top nearer to the indicator"
  }
  result "scatter_side" {
    title    = "Takes at the top differ by"
    value    = spread(reading.blade.top)
    unit     = "um"
    positive = "never below nothing"
  }
}

step "judge" {
  title = "Both sides together"

  result "scatter" {
    title    = "Takes at the top differ by, the worse side"
    value    = greatest(result.scatter_side)
    unit     = "um"
    positive = "never below nothing"
  }
  gate "steady" {
    title     = "The needle comes back to one place"
    of        = result.scatter
    at_most   = um(4)
    decision  = "simple" # a check of the set-up, not of the square
    source    = "shop rule, estimate"
    if_failed = [correction.clean, reject]
  }
  result "lean" {
    title    = "Lean of the column over this height"
    value    = column_lean(result.change.first, result.change.other)
    unit     = "um"
    positive = "towards the first side"
  }
  # Much lean makes a small slip in height count; it is known, so it is allowed.
  gate "column" {
    title     = "The column stands near enough upright"
    of        = result.lean
    within    = plus_minus(um(100))
    decision  = "simple"
    source    = "shop rule, estimate"
    if_failed = [correction.plumb, reject]
  }
  result "error" {
    title    = "Error of the square over this height"
    value    = square_error(result.change.first, result.change.other)
    unit     = "um"
    positive = "blade leans outwards"
  }
  result "slope" {
    title    = "Error of the square, as a slope"
    value    = result.error / given.height
    unit     = "um/m"
    positive = "blade leans outwards"
  }
  gate "square" {
    title     = "Square for its grade"
    of        = result.error
    within    = plus_minus(standard_limit("din_875", "squareness", given.square_grade, given.height).limit)
    source    = "DIN 875-1 over the height travelled; typical, verify"
    test      = "square_squareness"
    if_failed = [correction.clean, concession]
    upstream  = [gate.steady, gate.column]
  }
}

# What others take off: an error over a height says nothing without the height.
step "note" {
  title = "Write it down beside the square"
  do    = ["Write on the box, with the day: blade leans outwards, away from the sole, by ${result.slope}. Minus: inwards, over the sole."]
}

correction "clean" {
  title   = "Clean, and stand it again"
  caution = [caution.plate_work]
  do = [
    "Wipe sole, plate and blade. Feel for a burr or a grain under the sole, stone it off.",
    "Nip the clamps of the indicator's arm.",
  ]
  disturbs = [gate.square, gate.steady, gate.column]
  attempts = 2
}

correction "plumb" {
  title    = "Set the column upright"
  do       = ["Shim the column's foot until the needle changes by less than 0.1 mm (0.004 in) from foot to top."]
  disturbs = [gate.square, gate.steady]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: a square that leans 5 towards and a column that leans 12 to
# the first side read 17 and -7; half the sum is 5.
rehearsal "a good square" {
  seeds = 20
  hidden {
    error = um(5)
    lean  = um(12)
    grain = um(0) # under the sole, on the first side only
    shake = um(0) # what the second take of the other side's top is off by
  }
  spread { error = um(6) }
  noise { blade = um(0.3) }
  answer {
    height       = mm(200)
    square_grade = "1"
    blade = (each.place == "foot" ? um(0)
      : each.side == "first" ? hidden.error + hidden.lean + hidden.grain
      : hidden.error - hidden.lean + (each.take == 2 ? hidden.shake : um(0)))
  }
  reacts "clean" {
    grain = um(0)
    shake = um(0)
  }
  reacts "plumb" { lean = hidden.lean / 10 }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
  }
}

rehearsal "a square that leans back too far" {
  like  = "a good square"
  seeds = 5
  hidden { error = um(-34) }
  ends {
    outcome = "conceded"
    rounds  = { clean = 2 }
  }
}

rehearsal "a grain under the sole" {
  like  = "a good square"
  seeds = 20
  hidden { grain = um(60) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
  }
}

rehearsal "an arm that is not nipped" {
  like = "a good square"
  hidden { shake = um(9) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
    said    = { blade = ["spread"] }
  }
}

rehearsal "an arm that cannot be nipped" {
  like = "a good square"
  hidden { shake = um(9) }
  reacts "clean" {}
  ends {
    outcome = "rejected"
    rounds  = { clean = 2 }
  }
}

rehearsal "a column well out" {
  like  = "a good square"
  seeds = 5
  hidden { lean = um(180) }
  ends {
    outcome = "accepted"
    rounds  = { plumb = 1 }
  }
}

rehearsal "a column that cannot be set" {
  like = "a good square"
  hidden { lean = um(180) }
  reacts "plumb" {}
  ends {
    outcome = "rejected"
    rounds  = { plumb = 2 }
  }
}

rehearsal "at the limit" {
  like  = "a good square"
  seeds = 5
  hidden { error = um(20) } # where 20 is allowed
  ends { outcome = "conceded" }
}

rehearsal "a turn of the needle misread, found by the next take" {
  like = "a good square"
  mistake "turn" { of = reading.blade }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0, plumb = 0 }
    said    = { blade = ["turn"] }
  }
}
