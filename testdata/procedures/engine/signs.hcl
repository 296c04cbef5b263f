# Readings whose data can show a common mistake: sizes taken in turn, a bar read
# at two turns of the spindle, screws that are tightened one after another, a way
# there and back, two planes that let one way in only.

procedure "signs" {
  title    = "Measure a shaft, a bar, a foot and a way"
  machine  = "any"
  revision = "1"
  purpose  = "Show what readings look like besides what they say."
  decision = "simple"
}

instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(2)
  repeatability = um(1)
  turn          = mm(0.5)
}
instrument "dial" {
  kind          = "dial indicator"
  resolution    = um(1)
  error         = um(2)
  zero          = um(0)
  repeatability = um(1)
  turn          = mm(1)
}
instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  zero          = um(0)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

given "part" {
  ask    = "What is measured"
  choose = ["shaft", "pin", "bar", "foot", "way", "planes", "rail", "collars"]
}

step "the_shaft" {
  title = "Measure both collars of the shaft"
  when  = given.part == "shaft"
  reading "size" {
    each "collar" { of = ["left", "right"] }
    ask     = "Collar, ${each.collar}: diameter"
    unit    = "mm"
    repeat  = 3
    closure = um(20)
    with    = instrument.micrometer
    range   = [mm(5), mm(120)]
  }
  gate "alike" {
    title     = "Both collars are alike"
    of        = mean(reading.size.right) - mean(reading.size.left)
    within    = plus_minus(um(8))
    source    = "shop rule"
    if_failed = [correction.turn, reject]
  }
}

step "the_pin" {
  title = "Measure a pin"
  when  = given.part == "pin"
  reading "pin" {
    ask    = "Pin: diameter"
    unit   = "mm"
    repeat = 5
    with   = instrument.micrometer
    range  = [mm(5), mm(120)]
  }
  gate "thick" {
    title     = "The pin has its size"
    of        = reading.pin
    within    = between(mm(9.9), mm(10.1))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_bar" {
  title = "Read the bar"
  when  = given.part == "bar"
  reading "bar" {
    each "station" { of = ["near", "far"] }
    each "angle" { of = ["0", "180"] }
    ask      = "Bar, ${each.station}, spindle at ${each.angle}°: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "towards the operator"
    range    = [um(-500), um(500)]
  }
  gate "line" {
    title     = "The bar lies in line, read at one turn"
    of        = reading.bar.far["0"] - reading.bar.near["0"]
    within    = plus_minus(um(5))
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "line_of_both" {
    title     = "The bar lies in line, by the mean of both turns"
    of        = (reading.bar.far["0"] + reading.bar.far["180"] - reading.bar.near["0"] - reading.bar.near["180"]) / 2
    within    = plus_minus(um(5))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_foot" {
  title = "Tighten the foot, screw by screw"
  when  = given.part == "foot"
  reading "foot" {
    each "screw" { of = numbered(4) }
    ask      = "Screw ${each.screw} tight: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "up"
    range    = [um(-500), um(500)]
  }
  gate "still" {
    title     = "Tightening shifts nothing"
    of        = reading.foot[4]
    within    = plus_minus(um(5))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_way" {
  title = "Read the way, there and back"
  when  = given.part == "way"
  reading "way" {
    along     = stations(mm(0), mm(400), 5)
    both_ways = true
    closure   = um(20)
    ask       = "Way at ${each.station}: reading"
    unit      = "um"
    with      = instrument.dial
    positive  = "high"
    range     = [um(-500), um(500)]
  }
  gate "even" {
    title     = "The way is even"
    of        = spread(reading.way)
    at_most   = um(60)
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_planes" {
  title = "Read both planes"
  when  = given.part == "planes"
  reading "front" {
    ask      = "Front: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "towards the operator"
    range    = [um(-500), um(500)]
  }
  reading "top" {
    ask      = "Top: reading"
    unit     = "um"
    with     = instrument.dial
    positive = "up"
    range    = [um(-500), um(500)]
  }
  gate "front_in" {
    title     = "Towards the operator, never away"
    of        = reading.front
    within    = between(um(0), um(20))
    source    = "shop rule"
    if_failed = [concession]
  }
  gate "top_in" {
    title     = "Up, never down"
    of        = reading.top
    within    = between(um(0), um(20))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "the_rail" {
  title = "Read the rail"
  when  = given.part == "rail"
  reading "rail" {
    ask      = "Rail: reading"
    unit     = "um"
    with     = instrument.lever
    positive = "high"
    range    = [um(-500), um(500)]
  }
  result "height" {
    title    = "Rail above its place"
    value    = reading.rail
    unit     = "um"
    positive = "high"
  }
  gate "low" {
    title     = "The rail stands at its height"
    of        = result.height
    within    = plus_minus(um(5))
    source    = "shop rule"
    if_failed = [correction.shift, reject]
  }
}

step "the_collars" {
  title = "Measure both collars of the test bar"
  when  = given.part == "collars"
  reading "collar" {
    each "end" { of = ["headstock", "tailstock"] }
    ask   = "Collar, ${each.end} end: diameter"
    unit  = "mm"
    with  = instrument.micrometer
    range = [mm(5), mm(120)]
  }
  result "taper" {
    title    = "Taper"
    value    = reading.collar.tailstock - reading.collar.headstock
    unit     = "um"
    positive = "larger at the tailstock end"
  }
  gate "parallel" {
    title     = "The bar turns parallel"
    of        = result.taper
    within    = plus_minus(um(8))
    source    = "shop rule"
    if_failed = [correction.set_over, reject]
  }
}

correction "turn" {
  title    = "Turn both collars again"
  do       = ["Turn both at one setting."]
  attempts = 3
}

correction "shift" {
  title    = "Shift the rail"
  amount   = -result.height
  unit     = "um"
  positive = "up"
  negative = "down"
  do       = ["Shift it."]
  attempts = 3
  moved {
    ask  = "Rail: movement, plus up"
    with = instrument.dial
  }
  should_change {
    result = result.height
    by     = amount
  }
}

correction "set_over" {
  title    = "Set the tailstock over"
  amount   = result.taper / 2
  unit     = "um"
  positive = "towards the operator"
  negative = "away from the operator"
  do       = ["Set it over, and cut both collars again."]
  attempts = 3
  moved {
    ask  = "Barrel: movement, plus towards the operator"
    with = instrument.dial
  }
  should_change {
    result = result.taper
    by     = -2 * amount
  }
}

signoff "fitter" {
  title    = "Carried out by"
  concedes = true
}
