# Keys that are known in the run alone, a table of them, and an order that
# depends on the outer key.

procedure "bolts" {
  title    = "Does a screw lift the head?"
  machine  = "any"
  revision = "1"
  purpose  = "Tighten one screw after another and see what each lifts."
  decision = "simple"
}

given "screws" {
  ask   = "Head: how many screws?"
  count = true
  range = [1, 3]
}
given "end" {
  each "screw" { of = numbered(given.screws) }
  ask    = "Screw ${each.screw}: which end of the head?"
  choose = ["nose", "rear"]
}

instrument "gauge" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

step "pull" {
  title = "Screw ${each.screw}, ${given.end[each.screw]} end"
  each "screw" { of = numbered(given.screws) }
  reading "lift" {
    each "torque" { of = ["half", "full"] }
    ask      = "Screw ${each.screw}, ${each.torque} torque: reading ${each.take}"
    unit     = "um"
    repeat   = 2
    with     = instrument.gauge
    positive = "up"
    range    = [um(-50), um(50)]
  }
  gate "steady" {
    title     = "Both takes agree"
    of        = spread(reading.lift.full)
    at_most   = um(5)
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "swing" {
  title = "Swing the bar round"
  reading "bar" {
    each "station" { of = ["near", "far"] }
    each "angle" { of = each.station == "near" ? ["0", "180"] : ["180", "0"] }
    ask      = "Bar, ${each.station} station, spindle at ${each.angle}°"
    unit     = "um"
    with     = instrument.gauge
    positive = "up"
    range    = [um(-50), um(50)]
  }
}

step "judge" {
  title = "All screws together"
  result "rise" {
    title    = "Each screw lifts the head"
    value    = { for n, r in reading.lift : n => r.full - r.half }
    unit     = "um"
    positive = "up"
  }
  gate "still" {
    title     = "No screw lifts the head"
    of        = result.rise
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [correction.ease, reject]
  }
  result "second" {
    title    = "Screw 2 against screw 1, full torque"
    value    = reading.lift[2].full - reading.lift[1].full
    unit     = "um"
    positive = "second higher"
  }
  gate "alike" {
    title     = "Screws 1 and 2 pull alike"
    of        = result.second
    within    = plus_minus(um(20))
    source    = "shop rule"
    if_failed = [reject]
  }
  result "axis" {
    title    = "Bar, far less near"
    value    = mean(reading.bar.far) - mean(reading.bar.near)
    unit     = "um"
    positive = "free end high"
  }
  gate "lies" {
    title     = "The bar lies level"
    of        = result.axis
    within    = plus_minus(um(5))
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "ease" {
  title    = "Ease the worst screw"
  do       = ["Ease screw ${where_greatest(result.rise)}."]
  attempts = 1
}

signoff "fitter" { title = "Carried out by" }
