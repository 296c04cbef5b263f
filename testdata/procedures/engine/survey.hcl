# A survey: two tests are read as found, one is a limit. A lathe that is out is
# told to be out, and nothing is asked about it.

procedure "survey" {
  title    = "Look over a strip"
  machine  = "any"
  revision = "1"
  purpose  = "Keep how a strip was found, before anybody touches it."
  decision = "guarded"
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

given "whole" {
  ask    = "Is the far end to be looked at?"
  choose = ["yes", "no"]
}

step "strip" {
  title = "Read the strip"
  reading "high" {
    ask      = "Strip: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "strip high"
    range    = [um(-200), um(200)]
  }
  reading "rust" {
    ask    = "Rust on it?"
    choose = ["none", "some"]
  }
  gate "level" {
    title     = "The strip is level"
    of        = reading.high
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [noted]
    upstream  = [accepted["rail"]]
  }
  gate "clean" {
    title     = "It is without rust"
    holds     = reading.rust == "none"
    source    = "shop rule"
    if_failed = [noted]
  }
}

step "end" {
  title = "Read the far end"
  when  = given.whole == "yes"
  reading "far" {
    ask      = "Far end: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "strip high"
    nudge    = "up"
    push     = "Slip a feeler under the tip"
    range    = [um(-200), um(200)]
  }
  gate "end_level" {
    title     = "The far end is level"
    of        = reading.far
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [concession]
  }
}

signoff "fitter" { title = "Read by" }
signoff "inspector" {
  title      = "Seen by"
  other_than = signoff.fitter
  concedes   = true
}

rehearsal "found in order" {
  seeds = 1
  answer {
    whole = "yes"
    high  = um(2)
    rust  = "none"
    far   = um(1)
  }
  ends { outcome = "accepted" }
}
rehearsal "found rusty, far out, and undecided" {
  like = "found in order"
  seeds = 3
  answer {
    high = um(9.5)
    rust = "some"
    far  = um(30)
  }
  ends { outcome = "conceded" }
}
rehearsal "found undecided at the end" {
  like = "found in order"
  answer { far = um(9.5) }
  ends { outcome = "conceded" }
}
rehearsal "only looked at" {
  like = "found in order"
  answer {
    whole = "no"
    high  = um(90)
  }
  ends {
    outcome = "as_found"
    out     = [gate.level]
  }
}
