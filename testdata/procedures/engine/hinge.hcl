procedure "hinge" {
  title    = "Measure the pins of a hinge and its rail"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of instruments that do not suit."
}

instrument "micrometer" {
  kind          = "outside micrometer"
  resolution    = um(1)
  error         = um(4)
  repeatability = um(1)
  turn          = mm(0.5)
}

instrument "lever" {
  kind          = "lever indicator, 0.002 mm"
  resolution    = um(2)
  error         = um(4)
  repeatability = um(0.5)
  turn          = mm(0.2)
}

given "pin" {
  ask   = "Pins: diameter on the drawing"
  unit  = "mm"
  range = [mm(10), mm(60)]
}

step "pins" {
  title = "Measure both pins"

  reading "near" {
    ask    = "Near pin: diameter"
    unit   = "mm"
    repeat = 3
    with   = instrument.micrometer
    range  = [given.pin - mm(2), given.pin + mm(2)]
  }

  reading "far" {
    ask    = "Far pin: diameter"
    unit   = "mm"
    repeat = 3
    with   = instrument.micrometer
    range  = [given.pin - mm(2), given.pin + mm(2)]
  }

  result "unlike" {
    title    = "Far pin less near pin"
    value    = mean(reading.far) - mean(reading.near)
    unit     = "um"
    positive = "far pin larger"
  }

  gate "alike" {
    title     = "The pins are alike"
    of        = result.unlike
    within    = plus_minus(um(20))
    source    = "made up"
    if_failed = [reject]
  }
}

step "rail" {
  title = "Run along the rail"

  reading "rise" {
    along = [mm(0), mm(40), mm(80)]
    ask   = "Rail at ${each.station}"
    unit  = "um"
    with  = instrument.lever
    range = [um(-60), um(60)]
  }

  gate "even" {
    title     = "The rail is even"
    of        = reading.rise
    within    = plus_minus(um(30))
    source    = "made up"
    if_failed = [reject]
  }
}
