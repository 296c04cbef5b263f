# A level against itself: read, turned end for end in the same footprint, and
# read again. Half the difference is what the level shows on a true level; half
# the sum is how the surface lies, which nobody needs to know.

procedure "ref-level-reversal" {
  title    = "Level proved by turning it round"
  machine  = "any"
  revision = "1"
  purpose  = "Find what the level shows on a true level, and set its vial until that is next to nothing. Any rigid surface will do, level or not."
  decision = "guarded"
  duration = minutes(40)
  sources = [
    "half the difference of a level read both ways round: common practice, as for DIN 877",
    "half a division, four tenths of one between rounds: shop rule, estimate",
  ]
}

given "division" {
  ask   = "Level: one division (0.02 mm/m, 0.0005 in/ft)"
  unit  = "um/m"
  range = [um(10) / m(1), um(100) / m(1)]
}

# Its zero is what is looked for, so there is no doubt of it here.
instrument "level" {
  kind       = "precision level of 0.02 mm/m"
  resolution = um(5) / m(1) # a quarter of a division
  error      = um(5) / m(1)
  turn       = um(20) / m(1)
  zero       = um(0) / m(1)
  source     = "typical of DIN 877; verify"

  repeatability = um(2.5) / m(1)
}

step "ready" {
  title   = "Let the level come to rest"
  lasting = true
  caution = [caution.plate_work]
  tools = [
    "the level, one end marked with chalk",
    "a plate or a thick rigid flat, not on the machine under repair",
    "two stops: a strip along the side, a block at one end",
  ]
  do = [
    "Wipe the surface and the sole with the flat of a clean hand; feel for burrs.",
    "Clamp the two stops so that the level always comes back to one place.",
    "Stand the level in the stops, marked end to the right. Take your hands away from it.",
  ]
  confirm "rigid" { ask = "Surface: does it stay put when you lean on it?" }
  wait "warmth" {
    why      = "a hand's warmth lengthens the bubble and shifts it"
    at_least = minutes(15)
  }
}

step "turning" {
  title = "Read it both ways round, ${each.round} round"
  each "round" { of = ["first", "second", "third"] }
  do = [
    "Same footprint each time: against both stops, lifted and not slid.",
    "Wait a minute each time until the bubble stands. Do not breathe on the vial.",
    "Read both ends of the bubble and take the middle: one end alone moves as the bubble grows.",
    "Say which end of the SURFACE is high, not which end of the level.",
  ]
  reading "marked" {
    ask      = "Marked end to the right: level shows"
    unit     = "um/m"
    with     = instrument.level
    positive = "right-hand end of the surface high"
    range    = [um(-1000) / m(1), um(1000) / m(1)]
  }
  reading "turned" {
    ask      = "Turned, marked end to the left: level shows"
    unit     = "um/m"
    with     = instrument.level
    turned   = true
    positive = "right-hand end of the surface high"
    range    = [um(-1000) / m(1), um(1000) / m(1)]
  }
  result "zero_round" {
    title    = "Zero of the level, this round"
    value    = level_zero(reading.marked, reading.turned)
    unit     = "um/m"
    positive = "shows its marked end high"
  }
}

step "judge" {
  title = "Three rounds together"

  result "scatter" {
    title    = "The rounds differ by"
    value    = spread(result.zero_round)
    unit     = "um/m"
    positive = "never below nothing"
  }
  gate "rounds_alike" {
    title     = "The level says the same three times"
    of        = result.scatter
    at_most   = given.division * 0.4
    decision  = "simple" # a check of the set-up, not of the level
    source    = "shop rule, estimate: under half a division, for a bubble is read to a quarter"
    if_failed = [correction.settle, reject]
  }

  result "zero" {
    title    = "Zero of the level"
    value    = mean(result.zero_round)
    unit     = "um/m"
    positive = "shows its marked end high"
  }
  # A level that cannot be set still serves where only changes are read.
  gate "zero_small" {
    title     = "A true level shows as level"
    of        = result.zero
    within    = plus_minus(given.division / 2)
    source    = "shop rule, estimate: half a division"
    test      = "level_zero"
    if_failed = [correction.adjust, concession]
    upstream  = [gate.rounds_alike]
  }
}

correction "settle" {
  title = "Clean, wait, read again"
  do = [
    "Wipe sole and surface again, feel for a burr, stone it off.",
    "Tighten the stops. Leave the level in them for fifteen minutes.",
  ]
  disturbs = [gate.zero_small]
  attempts = 3
}

correction "adjust" {
  title    = "Set the vial"
  amount   = result.zero
  unit     = "um/m"
  positive = "marked end of the vial down"
  negative = "marked end of the vial up"
  do = [
    "Leave the level as it stands. Note where the bubble is.",
    "Turn the adjusting screw until the bubble has gone by this much, no more: half of what turning the level round showed.",
    "Lock the screw, wait a minute, then read how far it went.",
  ]
  attempts = 3
  disturbs = [gate.rounds_alike]
  moved {
    ask  = "Bubble shift, plus: marked end of vial down"
    with = instrument.level
  }
  should_change {
    result = result.zero
    by     = -amount
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: a surface 40 high on the right and a zero of 3 read 43 and 37;
# half the difference is 3 again.
rehearsal "a good level" {
  seeds = 20
  hidden {
    surface = um(40) / m(1)
    zero    = um(3) / m(1)
    drift   = um(0) / m(1) # what a warm hand adds to the first round
    gain    = 1            # of what the bubble went, what stays once locked
  }
  spread {
    zero = um(12) / m(1)
    gain = 0.1
  }
  noise {
    marked = um(1) / m(1)
    turned = um(1) / m(1)
  }
  answer {
    division = um(20) / m(1)
    marked   = hidden.surface + hidden.zero + (each.round == "first" ? hidden.drift : um(0) / m(1))
    turned   = hidden.surface - hidden.zero
  }
  reacts "adjust" { zero = hidden.zero - moved * hidden.gain }
  reacts "settle" { drift = um(0) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { adjust = 0 }
  }
}

rehearsal "two divisions out, and set" {
  like  = "a good level"
  seeds = 20
  hidden { zero = um(40) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { adjust = at_most(2) }
  }
}

rehearsal "out the other way" {
  like  = "a good level"
  seeds = 20
  hidden { zero = um(-30) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { adjust = at_most(2) }
  }
}

rehearsal "the screw turned the wrong way" {
  like = "a good level"
  hidden { zero = um(40) / m(1) }
  mistake "wrong_way" { of = correction.adjust }
  ends {
    outcome = "accepted"
    rounds  = { adjust = 2 }
    said    = { adjust = ["wrong_way"] }
  }
}

rehearsal "read with a warm hand on it" {
  like = "a good level"
  hidden { drift = um(30) / m(1) }
  ends {
    outcome = "accepted"
    rounds  = { settle = 1, adjust = 0 }
  }
}

rehearsal "a vial without a screw" {
  like = "a good level"
  hidden { zero = um(40) / m(1) }
  reacts "adjust" {}
  ends {
    outcome = "conceded"
    rounds  = { adjust = 3 }
  }
}

rehearsal "a loose vial" {
  like = "a good level"
  hidden { drift = um(60) / m(1) }
  reacts "settle" {}
  ends {
    outcome = "rejected"
    rounds  = { settle = 3 }
  }
}
