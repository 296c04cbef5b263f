# Corrections of every form at gates whose numbers are done in the head: a
# profile of amounts a station, one that cannot be put back, one without an
# amount, and a ledger that two of them write in.

procedure "corr-ways" {
  title    = "Scrape a strip and stand it upright"
  machine  = "any"
  revision = "1"
  purpose  = "Scrape what stands high, shim what stands low, clean when the two ends differ."
  decision = "guarded"
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

instrument "rough" {
  kind          = "dial indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(4)
  turn          = mm(1)
}

step "strip" {
  title = "Read the strip"
  reading "high" {
    along    = [mm(0), mm(100), mm(200)]
    ask      = "Strip at ${each.station}: reading"
    unit     = "um"
    with     = instrument.gauge
    positive = "strip high"
    range    = [um(-200), um(200)]
  }
  reading "ends" {
    ask      = "Strip: end against end"
    unit     = "um"
    with     = instrument.rough
    positive = "right end high"
    range    = [um(-200), um(200)]
  }
  gate "clean" {
    title     = "The ends agree"
    of        = reading.ends
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [correction.wipe, reject]
  }
  result "above" {
    title    = "Strip above its datum"
    value    = reading.high
    unit     = "um"
    positive = "strip high"
  }
  result "middle" {
    title    = "Middle above the datum"
    value    = at(reading.high, mm(100))
    unit     = "um"
    positive = "strip high"
  }
  gate "true" {
    title     = "No place is off"
    of        = result.above
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [correction.scrape, correction.shim, concession]
    upstream  = [gate.clean]
  }
}

correction "wipe" {
  title    = "Wipe it"
  do       = ["Wipe it, stone off burrs."]
  disturbs = [gate.true]
  attempts = 2
}
correction "scrape" {
  title    = "Scrape the strip"
  amount   = result.above
  unit     = "um"
  positive = "scrape off"
  do       = ["Scrape what stands high."]
  ledger   = "strip"
  attempts = 2
}
correction "shim" {
  title    = "Shim the strip"
  amount   = -result.middle
  unit     = "um"
  positive = "shim under the strip"
  negative = "shim from under the strip"
  do       = ["Change the shim."]
  ledger   = "strip"
  attempts = 3
  should_change {
    result = result.middle
    by     = amount
  }
}

signoff "inspector" {
  title    = "Accepted by"
  concedes = true
}
