procedure "tailstock-by-test-cut" {
  title    = "Tailstock in line: test cut between centres"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Turn two collars at one setting and set the tailstock over until they agree."
  decision = "guarded"            # or "simple", "strict"; see measure.md
}

given "centres" {
  ask    = "Length of the bar between its centres"
  unit   = "mm"
  range  = [mm(80), mm(1500)]
  from   = machine.test_bar.length       # offered, when the machine's entry has it
}

given "span" {
  ask   = "Collars: distance, middle to middle"
  unit  = "mm"
  range = [mm(50), given.centres]
}

instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(4)                   # limit of indication error (DIN 863)
  repeatability = um(1)                   # standard deviation of one take
  turn          = mm(0.5)                 # one turn of the screw; see measure.md rule 5
}

instrument "indicator" {
  kind       = "dial indicator on the tailstock barrel"
  resolution = um(10)
}

step "cut" {
  title   = "Take the test cut"
  spindle = "turning"
  caution = [caution.rotating, caution.centres]
  tools   = ["bar with two collars, centre-drilled both ends", "sharp finishing tool"]
  do = [
    "Drive the bar with a dog; clear the compound at both ends of the travel by hand.",
    "One light finishing pass over both collars, same depth setting, power feed.",
  ]
  confirm "one_setting" { ask = "Were both collars cut without touching the cross slide?" }
}

step "measure" {
  title   = "Measure both collars"
  needs   = [step.cut]                    # measured again means cut again
  spindle = "stopped"

  wait "cool" {
    why      = "the bar is warm from the cut"
    at_least = minutes(10)
  }

  reading "headstock_end" {
    ask    = "Diameter, headstock-end collar"
    unit   = "mm"
    repeat = 3
    with   = instrument.micrometer
    range  = [mm(5), mm(120)]
  }
  reading "tailstock_end" {
    ask    = "Diameter, tailstock-end collar"
    unit   = "mm"
    repeat = 3
    with   = instrument.micrometer
    range  = [mm(5), mm(120)]
  }

  result "taper" {
    title    = "Taper over the span"
    value    = mean(reading.tailstock_end) - mean(reading.headstock_end)
    unit     = "um"
    positive = "larger at the tailstock end"
  }

  gate "cylindrical" {
    title     = "The bar turns parallel"
    of        = result.taper
    within    = plus_minus(um(20) * given.span / mm(300))
    source    = "common practice: 0.02 on the diameter in 300"
    if_failed = [correction.set_over, concession]
  }
}

correction "set_over" {
  title    = "Set the tailstock over"
  amount   = result.taper / 2 * given.centres / given.span
  unit     = "mm"
  positive = "towards the operator"
  negative = "away from the operator"
  do       = ["Put an indicator on the tailstock barrel.", "Slacken the clamp, move, lock, read again."]
  attempts = 6

  moved {
    ask  = "Movement shown by the indicator after locking, plus towards the operator"
    with = instrument.indicator
  }
  should_change {
    result = result.taper
    by     = -2 * amount * given.span / given.centres
  }
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true                       # may grant concessions
}

rehearsal "0.085 mm out, towards the back" {
  seeds = 50
  hidden { offset = -mm(0.085) }
  noise {
    headstock_end = um(1)
    tailstock_end = um(1)
  }
  answer {
    centres       = mm(300)
    span          = mm(250)
    one_setting   = true
    headstock_end = mm(20)
    tailstock_end = mm(20) - 2 * hidden.offset * given.span / given.centres
  }
  reacts "set_over" { offset = hidden.offset + moved }
  ends {
    outcome = "accepted"
    rounds  = { set_over = at_most(2) }
  }
}
