# An indicator against itself and one block: the same spot touched five times
# from either side tells how it repeats and what it loses on the way back; a step
# of known size tells whether what it shows is true.

procedure "ref-indicator" {
  title    = "Indicator proved on one spot and one step"
  machine  = "any"
  revision = "1"
  purpose  = "See that an indicator comes back to one place, loses little on the way back, and shows a known step as it is. One that does not must not judge a machine."
  decision = "simple" # what makers of indicators go by: their limits leave no room for a guard
  duration = minutes(30)
  sources = [
    "five takes each way and one step: common practice",
    "limits: typical of DIN 878, and of ISO 9493 and DIN 2270 for lever indicators; verify",
  ]
}

given "type" {
  ask    = "Indicator: what it is"
  choose = ["dial, 10 mm travel", "dial, 0.8 mm travel", "lever, 0.01 mm", "lever, 0.002 mm"]
}
given "block" {
  ask   = "Step: height, larger block less smaller"
  unit  = "mm"
  range = [mm(0.03), mm(0.5)]
}

# Read between the marks. What it errs by is looked for, so it is no doubt here.
instrument "tested" {
  kind       = "indicator under test"
  resolution = um(1)
  error      = um(0)
  turn       = mm(1)

  repeatability = um(0.5)
}

step "ready" {
  title   = "Set it up stiff"
  lasting = true
  caution = [caution.plate_work]
  tools = [
    "surface plate, short stiff stand",
    "two gauge blocks that differ by a known step, 0.1 mm (0.004 in) or so",
  ]
  do = [
    "Wipe plate and blocks, wring or press them down.",
    "Shortest arm there is, all clamps nipped. Tip tight in its thread.",
    "Lever indicator: lever within 15 degrees of the surface, or it shows too much.",
    "Preload it by a quarter of its travel, at most one turn.",
  ]
  confirm "stiff" { ask = "Stand: does the needle come back when pressed?" }
}

step "spot" {
  title = "One spot, from either side"
  do = [
    "The smaller block under the tip. Set the needle to zero.",
    "Going in: slide the block under the tip, chamfered edge first, up to a marked spot, and read. The block pushes the tip in as it climbs. Five times.",
    "Coming back: the tip on a thin strip on that spot, draw the strip out, and read. Five times.",
  ]
  reading "going_in" {
    ask      = "One spot, going in: needle"
    unit     = "um"
    repeat   = 5
    with     = instrument.tested
    positive = "plunger pushed in"
    nudge    = "against the tip"
    push     = "Push the tip in with a finger"
    range    = [um(-50), um(50)]
  }
  reading "coming_back" {
    ask      = "One spot, coming back: needle"
    unit     = "um"
    repeat   = 5
    with     = instrument.tested
    positive = "plunger pushed in"
    range    = [um(-50), um(50)]
  }

  result "scatter" {
    title    = "Five takes differ by, the worse way"
    value    = greatest([spread(reading.going_in), spread(reading.coming_back)])
    unit     = "um"
    positive = "never below nothing"
  }
  # Of levers no figure for repeating is at hand; that for hysteresis serves.
  gate "repeats" {
    title = "It comes back to one place"
    of    = result.scatter
    at_most = (given.type == "dial, 10 mm travel" ? standard_limit("din_878", "repeatability", "10mm").limit
      : given.type == "dial, 0.8 mm travel" ? standard_limit("din_878", "repeatability", "0.8mm").limit
      : given.type == "lever, 0.01 mm" ? standard_limit("iso_9493", "hysteresis", "0.01").limit
      : standard_limit("iso_9493", "hysteresis", "0.002").limit)
    source    = "typical of DIN 878 and ISO 9493, verify"
    test      = "indicator_repeats"
    if_failed = [correction.clean, reject]
  }
  result "lost" {
    title    = "Lost between going in and coming back"
    value    = abs(mean(reading.coming_back) - mean(reading.going_in))
    unit     = "um"
    positive = "never below nothing"
  }
  gate "hysteresis" {
    title = "It loses little on the way back"
    of    = result.lost
    at_most = (given.type == "dial, 10 mm travel" ? standard_limit("din_878", "hysteresis", "10mm").limit
      : given.type == "dial, 0.8 mm travel" ? standard_limit("din_878", "hysteresis", "0.8mm").limit
      : given.type == "lever, 0.01 mm" ? standard_limit("iso_9493", "hysteresis", "0.01").limit
      : standard_limit("iso_9493", "hysteresis", "0.002").limit)
    source    = "typical of DIN 878 and ISO 9493, verify"
    test      = "indicator_hysteresis"
    if_failed = [correction.clean, reject]
  }
}

step "known" {
  title = "A known step"
  do = [
    "Read on the smaller block, then on the larger, the tip let down gently on each.",
    "Fingers off the blocks for five minutes first: they grow with the warmth.",
  ]
  reading "step" {
    each "on" { of = ["smaller", "larger"] }
    ask      = "${each.on == "smaller" ? "Smaller" : "Larger"} block: needle"
    unit     = "um"
    repeat   = 3
    with     = instrument.tested
    positive = "plunger pushed in"
    closure  = um(3)
    range    = [um(-600), um(600)]
  }
  result "step_error" {
    title    = "Step shown less step there is"
    value    = mean(reading.step.larger) - mean(reading.step.smaller) - given.block
    unit     = "um"
    positive = "reads too high"
  }
  gate "true" {
    title = "A step is shown as it is"
    of    = result.step_error
    within = plus_minus(given.type == "dial, 10 mm travel" ? standard_limit("din_878", "local", "10mm").limit
      : given.type == "dial, 0.8 mm travel" ? standard_limit("din_878", "local", "0.8mm").limit
      : given.type == "lever, 0.01 mm" ? standard_limit("iso_9493", "total", "0.01").limit
      : standard_limit("iso_9493", "total", "0.002").limit)
    source    = "typical of DIN 878 (within 0.1 mm) and ISO 9493 (whole travel), verify"
    test      = "indicator_step"
    if_failed = [correction.square_up, reject]
    upstream  = [gate.repeats, gate.hysteresis]
  }
}

correction "clean" {
  title = "Clean stem and tip, nip the clamps"
  do = [
    "Wipe stem and tip dry with a clean cloth. No oil: it gums.",
    "Tighten the tip. Nip every clamp of the stand, shorten the arm.",
  ]
  disturbs = [gate.true, gate.repeats, gate.hysteresis]
  attempts = 2
}

correction "square_up" {
  title = "Set stem or lever square, use the right tip"
  do = [
    "Dial: stem square to the plate. Lever: as near level as can be, its own tip, for another length shows another amount.",
    "Wring the blocks again.",
  ]
  disturbs = [gate.repeats, gate.hysteresis]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }

# Worked by hand: 1.5 lost on the way back and a step of 100 shown as 102.
rehearsal "a good dial indicator" {
  seeds = 20
  hidden {
    lost   = um(1.5)
    scale  = 1.02  # what it shows of what there is
    grit   = um(0) # the third take going in is off by this
    gummed = um(0) # lost more on the way back
  }
  noise {
    going_in    = um(0.3)
    coming_back = um(0.3)
    step        = um(0.3)
  }
  answer {
    type        = "dial, 10 mm travel"
    block       = mm(0.1)
    going_in    = each.take == 3 ? hidden.grit : um(0)
    coming_back = hidden.lost + hidden.gummed
    step        = each.on == "larger" ? mm(0.1) * hidden.scale : um(0)
  }
  reacts "clean" {
    grit   = um(0)
    gummed = um(0)
  }
  reacts "square_up" { scale = 1.01 }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0, square_up = 0 }
  }
}

rehearsal "a short dial" {
  like = "a good dial indicator"
  answer { type = "dial, 0.8 mm travel" }
  ends { outcome = "accepted" }
}

rehearsal "a coarse lever" {
  like = "a good dial indicator"
  answer { type = "lever, 0.01 mm" }
  ends { outcome = "accepted" }
}

rehearsal "a fine lever" {
  like = "a good dial indicator"
  hidden {
    lost  = um(0.5)
    scale = 1.01
  }
  answer { type = "lever, 0.002 mm" }
  ends { outcome = "accepted" }
}

rehearsal "grit on the tip" {
  like = "a good dial indicator"
  hidden { grit = um(8) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
    said    = { going_in = ["spread"] }
  }
}

rehearsal "gummed with oil" {
  like = "a good dial indicator"
  hidden { gummed = um(9) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
  }
}

rehearsal "a lever that stands steep" {
  like = "a good dial indicator"
  hidden { scale = 1.2 }
  answer { type = "lever, 0.01 mm" }
  ends {
    outcome = "accepted"
    rounds  = { square_up = 1 }
  }
}

rehearsal "worn out: it sticks" {
  like = "a good dial indicator"
  hidden { gummed = um(9) }
  reacts "clean" {}
  ends {
    outcome = "rejected"
    rounds  = { clean = 2 }
  }
}

rehearsal "a wrong tip that is all there is" {
  like = "a good dial indicator"
  hidden { scale = 1.3 }
  reacts "square_up" {}
  ends {
    outcome = "rejected"
    rounds  = { square_up = 2 }
  }
}

rehearsal "pivots loose" {
  like = "a good dial indicator"
  hidden { grit = um(8) }
  reacts "clean" {}
  ends {
    outcome = "rejected"
    rounds  = { clean = 2 }
  }
}

rehearsal "a turn of the large hand misread, the small one not looked at" {
  like = "a good dial indicator"
  mistake "turn" { of = reading.step }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0, square_up = 0 }
    said    = { step = ["range"] }
  }
}
