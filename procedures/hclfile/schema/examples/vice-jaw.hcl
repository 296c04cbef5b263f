# A vice set straight on a milling machine. Everything here is made up.
procedure "vice-jaw" {
  title    = "Vice: fixed jaw along the table's travel"
  machine  = "milling machine"
  revision = "1"
  purpose  = "Run an indicator along the fixed jaw and tap the vice round until both ends read alike."
}

given "jaw" { like = given.jaw }

instrument "thermometer" {
  kind          = "contact thermometer"
  resolution    = kelvin(0.1)
  error         = kelvin(0.5)
  repeatability = kelvin(0.1)
}

step "clean" {
  like = step.clean
  confirm "clean_both" { ask = "Are jaw and table free of chips and burrs?" }
}

step "cool" {
  title = "Let the vice take the room's warmth"
  wait "warm" {
    why      = "the vice comes out of the hot wash"
    at_least = minutes(15)

    until {
      ask   = "Vice body: temperature"
      unit  = "celsius"
      with  = instrument.thermometer
      every = minutes(10)
      agree = kelvin(0.5)
      takes = 6
    }
  }
}

step "read" {
  title   = "Read both ends of the jaw"
  needs   = [step.clean]
  spindle = "stopped"
  do      = ["Set the indicator to nothing at the left end of the jaw; wind the table to its right end."]

  reading "jaw_end" {
    ask      = "${each.end} end of the jaw"
    unit     = "um"
    with     = instrument.lever
    positive = "jaw towards the operator"
    range    = [um(-500), um(500)]
    each "end" { of = ["left", "right"] }
  }

  result "skew" {
    title    = "Jaw, right end against left"
    value    = reading.jaw_end.right - reading.jaw_end.left
    unit     = "um"
    positive = "right end towards the operator"
  }

  gate "parallel" {
    title     = "The fixed jaw runs along the table's travel"
    of        = result.skew
    within    = plus_minus(table.vice.jaw_parallel * given.jaw / mm(100))
    if_failed = [correction.tap, correction.stone_it, reject]
  }
}

correction "tap" {
  title    = "Tap the vice round"
  amount   = -result.skew
  unit     = "um"
  positive = "right end towards the operator"
  negative = "right end away from the operator"
  do       = ["Leave one bolt firm, the other snug. Tap with a soft hammer, tighten both."]
  attempts = 4

  moved {
    ask  = "Right end: how far, plus towards the operator"
    with = instrument.lever
  }
  should_change {
    result = result.skew
    by     = amount
  }
}

correction "stone_it" { like = correction.stone_it }

signoff "fitter" { title = "Set by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
}

rehearsal "set over by a fair knock" {
  like  = "the shop's vice"
  seeds = 20

  spread { skew = um(60) }
  ends {
    outcome = "accepted"
    rounds  = { tap = at_most(2) }
  }
}

rehearsal "the wrong way first" {
  like = "the shop's vice"
  mistake "wrong_way" { of = correction.tap }
  ends {
    outcome = "accepted"
    said    = { tap = ["wrong_way"] }
  }
}
