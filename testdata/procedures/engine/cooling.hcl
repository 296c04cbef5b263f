# Waits, a hold point, a confirmation, facts that last and facts that do not.

procedure "cooling" {
  title    = "Measure a warm part"
  machine  = "any"
  revision = "1"
  purpose  = "Warm the spindle, let the part come to rest, measure it."
  decision = "simple"
}

instrument "comparator" {
  kind       = "bench comparator"
  resolution = um(0.5)
  error      = um(1)
}

caution "rotating" {
  text   = "Sleeves and hair away from the spindle."
  hazard = "rotating"
  source = "trade practice"
}

step "master" {
  title   = "Set to the master"
  lasting = true
  reading "ring" {
    ask   = "Master: reading"
    unit  = "um"
    with  = instrument.comparator
    range = [um(-5), um(5)]
  }
}

step "warm" {
  title    = "Warm the spindle"
  spindle  = "turning"
  caution  = [caution.rotating]
  good_for = minutes(30)
  wait "run" {
    why      = "a cold spindle lies differently"
    at_least = minutes(10)
  }
}

step "rest" {
  title      = "Let it come to rest"
  needs      = [step.warm]
  spindle    = "stopped"
  hold_point = signoff.inspector
  do         = ["Lay the part on the plate."]
  confirm "flat" { ask = "Does it lie flat?" }
  wait "cool" {
    why      = "the part is warm"
    at_least = minutes(5)
    until {
      ask   = "Part: reading ${each.take}"
      unit  = "um"
      with  = instrument.comparator
      every = minutes(5)
      agree = um(0.5)
      takes = 3
    }
  }
  reading "part" {
    ask     = "Part: reading"
    unit    = "um"
    along   = [mm(0), mm(10)]
    closure = um(2)
    with    = instrument.comparator
    range   = [um(-100), um(100)]
  }
  gate "size" {
    title     = "The part has its size"
    of        = mean(reading.part) - reading.ring
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [correction.lap, reject]
  }
}

correction "lap" {
  title    = "Lap it"
  spindle  = "turning"
  caution  = [caution.rotating]
  do       = ["Lap it for a minute."]
  attempts = 3
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
}
