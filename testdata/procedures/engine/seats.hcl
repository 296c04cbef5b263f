# A bar in two seatings, and a barrel after it, read with one needle that is not
# touched in between: it is tested once for all.

procedure "seats" {
  title    = "A bar in its seatings"
  machine  = "any"
  revision = "1"
  purpose  = "Read a bar in two seatings and the barrel."
  decision = "simple"
}

instrument "gauge" {
  kind       = "lever indicator"
  resolution = um(1)
  error      = um(2)
  turn       = mm(0.2)
}

step "seat" {
  title = "Bar turned ${each.turned}°"
  each "turned" { of = ["0", "180"] }
  reading "bar" {
    each "place" { of = ["near", "far"] }
    ask      = "Bar turned ${each.turned}°, ${each.place}"
    unit     = "um"
    with     = instrument.gauge
    positive = "towards the operator"
    nudge    = "towards the operator"
    tested   = reading.bar
    range    = [um(-90), um(90)]
  }
}

step "tail" {
  title = "Barrel, by the same needle"
  reading "barrel" {
    each "place" { of = ["mouth", "rear"] }
    ask      = "Barrel, ${each.place}"
    unit     = "um"
    with     = instrument.gauge
    positive = "towards the operator"
    nudge    = "towards the operator"
    tested   = reading.bar
    range    = [um(-90), um(90)]
  }
}

step "together" {
  title = "Both seatings"
  gate "straight" {
    title     = "The bar does not run out"
    of        = mean(reading.bar["0"]) - mean(reading.bar["180"])
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "leans" {
    title     = "The barrel leans little"
    of        = reading.barrel.mouth - reading.barrel.rear
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "fitter" { title = "By" }
