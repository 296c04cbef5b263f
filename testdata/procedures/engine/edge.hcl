# Gates that ask whether something holds, under doubt.

procedure "edge" {
  title    = "Which is the larger?"
  machine  = "any"
  revision = "1"
  purpose  = "Say which of two collars is the larger."
  decision = "guarded"
}

instrument "gauge" {
  kind          = "comparator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

step "measure" {
  title = "Measure both"
  reading "first" {
    ask   = "First collar"
    unit  = "um"
    with  = instrument.gauge
    range = [um(-100), um(100)]
  }
  reading "second" {
    ask   = "Second collar"
    unit  = "um"
    with  = instrument.gauge
    range = [um(-100), um(100)]
  }
  reading "mark" {
    ask    = "Which marked?"
    choose = ["first", "second"]
  }
  gate "larger" {
    title     = "The first is the larger"
    holds     = reading.first > reading.second
    source    = "shop rule"
    if_failed = [correction.swap, reject]
  }
  gate "plainly" {
    title     = "The second is not below nothing"
    holds     = reading.second >= um(0)
    decision  = "simple"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "marked" {
    title     = "The first marked"
    holds     = reading.mark == "first"
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "swap" {
  title    = "Swap them"
  do       = ["Swap the collars."]
  attempts = 1
}

signoff "fitter" { title = "Carried out by" }
