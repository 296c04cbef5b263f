# Results whose uncertainty is worked out by hand in the tests.

procedure "corr-doubt" {
  title    = "What readings share"
  machine  = "any"
  revision = "1"
  purpose  = "Read things whose doubt is worked out by hand."
  decision = "guarded"
}

instrument "rule" {
  kind       = "steel rule"
  resolution = mm(0.5)
  error      = mm(30)
  zero       = mm(0)
  turn       = mm(1)
}
instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(6)
  repeatability = um(1)
  turn          = mm(0.5)
}
instrument "set" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(2)
  zero          = um(12)
  repeatability = um(1)
  turn          = mm(0.2)
}
instrument "trusted" {
  kind          = "lever indicator, its zero within its error"
  resolution    = um(1)
  error         = um(2)
  zero          = um(0)
  repeatability = um(1)
  turn          = mm(0.2)
}

given "length" {
  ask   = "Bar: length"
  unit  = "mm"
  with  = instrument.rule
  range = [mm(50), mm(500)]
}

step "read" {
  title = "Read them"
  reading "near" {
    ask   = "Near collar: diameter"
    unit  = "mm"
    with  = instrument.micrometer
    range = [mm(5), mm(50)]
  }
  reading "far" {
    ask   = "Far collar: diameter"
    unit  = "mm"
    with  = instrument.micrometer
    range = [mm(5), mm(50)]
  }
  reading "place" {
    each "at" { of = numbered(4) }
    ask      = "Place ${each.at}: reading"
    unit     = "um"
    with     = instrument.set
    positive = "high"
    range    = [um(-100), um(100)]
  }
  reading "alone" {
    ask      = "Alone: reading"
    unit     = "um"
    with     = instrument.trusted
    positive = "high"
    range    = [um(-100), um(100)]
  }
  reading "one_way" {
    ask      = "One way: reading"
    unit     = "um"
    with     = instrument.set
    positive = "high"
    range    = [um(-100), um(100)]
  }
  reading "other_way" {
    ask      = "Turned round: reading"
    unit     = "um"
    with     = instrument.set
    turned   = true
    positive = "high"
    range    = [um(-100), um(100)]
  }
  gate "taper" {
    title     = "Taper, its limit by the length"
    of        = reading.far - reading.near
    within    = plus_minus(um(20) * given.length / mm(300))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "diameter" {
    title     = "Diameter"
    of        = reading.near
    within    = between(mm(10), mm(30))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "level" {
    title     = "First place"
    of        = reading.place[1]
    within    = plus_minus(um(100))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "alike" {
    title     = "Spread of the places"
    of        = greatest(reading.place) - least(reading.place)
    at_most   = um(100)
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "size" {
    title     = "Size of the difference"
    of        = abs(reading.place[2] - reading.place[1])
    at_most   = um(100)
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "true_zero" {
    title     = "Alone"
    of        = reading.alone
    within    = plus_minus(um(100))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "reversal" {
    title     = "Mean of a reversal"
    of        = (reading.one_way + reading.other_way) / 2
    within    = plus_minus(um(100))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "reversed" {
    title     = "Half difference of a reversal"
    of        = (reading.one_way - reading.other_way) / 2
    within    = plus_minus(um(100))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "inspector" { title = "Accepted by" }
