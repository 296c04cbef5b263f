# Profiles and turns: read there and back, closed, pooled, judged at every
# station, corrected by an amount a station.

procedure "rows" {
  title    = "A strip along and a disc around"
  machine  = "any"
  revision = "1"
  purpose  = "Read a strip along its length and a disc around, and scrape what stands high."
  decision = "guarded"
}

given "length" {
  ask   = "Strip: length"
  unit  = "mm"
  range = [mm(100), mm(400)]
}
given "places" {
  ask   = "Strip: how many stations?"
  count = true
  range = [3, 5]
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.3)
  turn          = mm(0.2)
}

step "along" {
  title = "Read the strip along"
  do    = ["Slide the gauge along."]
  reading "strip" {
    ask      = "Strip: reading at ${each.station}, take ${each.take}"
    unit     = "um"
    along    = stations(mm(0), given.length, given.places)
    repeat   = 2
    closure  = um(2)
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
  result "form" {
    title    = "Each station above the lowest"
    value    = reading.strip - least(reading.strip)
    unit     = "um"
    positive = "high"
  }
  gate "even" {
    title     = "No station stands high"
    of        = reading.strip
    at_most   = um(10)
    source    = "shop rule"
    if_failed = [correction.scrape, concession]
  }
}

step "return" {
  title = "Read it there and back"
  reading "again_along" {
    ask       = "Strip: reading at ${each.station}"
    unit      = "um"
    along     = [mm(0), mm(50), mm(100)]
    both_ways = true
    closure   = um(2)
    with      = instrument.gauge
    positive  = "high"
    range     = [um(-100), um(100)]
  }
  gate "level" {
    title     = "Level there and back"
    of        = mean(reading.again_along)
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "around" {
  title = "Read the disc around"
  reading "disc" {
    ask      = "Disc: reading at ${each.angle}"
    unit     = "um"
    around   = 4
    nudge    = "up"
    closure  = um(2)
    with     = instrument.gauge
    positive = "up"
    range    = [um(-100), um(100)]
  }
  gate "true" {
    title     = "The disc runs true"
    of        = spread(reading.disc)
    at_most   = um(15)
    source    = "shop rule"
    if_failed = [correction.true_up, reject]
  }
}

correction "scrape" {
  title    = "Scrape what stands high"
  amount   = result.form
  unit     = "um"
  positive = "to scrape off"
  ledger   = "strip"
  do       = ["Scrape most at ${where_greatest(result.form)}."]
  attempts = 3
}
correction "true_up" {
  title    = "True the disc up"
  do       = ["Tap the high side down."]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title    = "Accepted by"
  concedes = true
}
