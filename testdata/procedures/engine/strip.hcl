# A row along a strip that is closed, a row there and back, and a row round a
# disc with a test of the needle.

procedure "strip" {
  title    = "Read a strip along and a disc around"
  machine  = "any"
  revision = "1"
  purpose  = "Read a strip along its length and a disc around."
  decision = "simple"
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

step "along" {
  title = "Read the strip along"
  do    = ["Slide the gauge along."]
  reading "row" {
    ask      = "Strip at ${each.station}, take ${each.take}"
    unit     = "um"
    along    = [mm(0), mm(50), mm(100)]
    repeat   = 2
    closure  = um(2)
    with     = instrument.gauge
    positive = "high"
    range    = [um(-100), um(100)]
  }
  gate "even" {
    title     = "No place stands high"
    of        = reading.row
    at_most   = um(10)
    source    = "shop rule"
    if_failed = [correction.scrape, reject]
  }
}

step "return" {
  title = "Read it there and back"
  reading "way" {
    ask       = "Strip at ${each.station}"
    unit      = "um"
    along     = [mm(0), mm(50), mm(100)]
    both_ways = true
    closure   = um(2)
    with      = instrument.gauge
    positive  = "high"
    range     = [um(-100), um(100)]
  }
  gate "straight" {
    title     = "Straight there and back"
    of        = greatest(reading.way)
    at_most   = um(20)
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "around" {
  title = "Read the disc around"
  reading "disc" {
    ask      = "Disc at ${each.angle}"
    unit     = "um"
    around   = 4
    nudge    = "up"
    with     = instrument.gauge
    positive = "up"
    range    = [um(-100), um(100)]
  }
  result "lift" {
    title    = "Disc at half a turn less at the start"
    value    = at(reading.disc, deg(180)) - at(reading.disc, deg(0))
    unit     = "um"
    positive = "half a turn high"
  }
  gate "true" {
    title     = "The disc runs true"
    of        = result.lift
    within    = plus_minus(um(15))
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "scrape" {
  title    = "Scrape what stands high"
  do       = ["Scrape most at ${where_greatest(reading.row)}."]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
