# A wait by the clock, and one by the temperature of the part.

procedure "thermal" {
  title    = "Let a part come to the temperature of the room"
  machine  = "any"
  revision = "1"
  purpose  = "Wait until the part is as warm as the room."
  decision = "simple"
}

caution "hot" {
  text   = "The part may be hot."
  hazard = "skin"
  source = "trade practice"
}

instrument "thermometer" {
  kind          = "contact thermometer"
  resolution    = kelvin(0.1)
  error         = kelvin(0.3)
  repeatability = kelvin(0.1)
}

step "rest" {
  title   = "Lay it on the plate"
  caution = [caution.hot]
  confirm "lies" { ask = "Part: does it lie flat on the plate?" }
  wait "rests" {
    why      = "the part is warm from the cut"
    at_least = minutes(10)
  }
  wait "even" {
    why = "a warm part measures large"
    until {
      ask   = "Part: temperature, reading ${each.take}"
      unit  = "degC"
      with  = instrument.thermometer
      every = minutes(5)
      agree = kelvin(0.2)
      takes = 3
    }
  }
  reading "warm" {
    ask   = "Part: temperature"
    unit  = "degC"
    with  = instrument.thermometer
    range = [celsius(5), celsius(60)]
  }
  gate "cold" {
    title     = "The part is as warm as the room"
    of        = reading.warm
    within    = between(celsius(15), celsius(25))
    source    = "shop rule"
    if_failed = [reject]
  }
}

signoff "fitter" { title = "Carried out by" }
