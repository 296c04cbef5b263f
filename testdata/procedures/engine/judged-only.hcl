# A test that nothing is corrected at: where it is mended stands upstream.

procedure "judged-only" {
  title    = "Judge a strip"
  machine  = "any"
  revision = "1"
  purpose  = "Judge a strip that another procedure mends."
  decision = "guarded"
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
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
  gate "level" {
    title     = "The strip is level"
    of        = reading.high
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [concession]
    upstream  = [accepted["rail"], accepted["frame"]]
  }
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}
