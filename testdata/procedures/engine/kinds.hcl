# Every kind of question, with conditions, keys known in the run alone, waits, a
# hold point and facts that last or do not.

procedure "kinds" {
  title    = "One of each kind"
  machine  = "any"
  revision = "1"
  purpose  = "Ask every kind of question once."
  decision = "simple"
}

given "style" {
  ask    = "Ways: which form?"
  choose = ["vee", "flat"]
}
given "depth" {
  when  = given.style == "vee"
  ask   = "Vee: depth"
  unit  = "mm"
  range = [mm(1), mm(50)]
}
given "screws" {
  ask   = "Head: how many screws?"
  count = true
  range = [1, 4]
}
given "end" {
  each "screw" { of = numbered(given.screws) }
  ask    = "Screw ${each.screw}: which end of the head?"
  choose = ["nose", "rear"]
}
given "maker" {
  ask  = "Machine: who made it?"
  text = true
}

instrument "lever" {
  kind          = "lever indicator"
  resolution    = um(1)
  error         = um(1)
  repeatability = um(0.3)
  turn          = mm(0.2)
}
instrument "level" {
  kind       = "precision level"
  resolution = arcsec(1)
}
instrument "comparator" {
  kind       = "bench comparator"
  resolution = um(0.5)
}

caution "rotating" {
  text   = "Sleeves and hair away from the spindle."
  hazard = "rotating"
  source = "trade practice"
}
caution "isolate" {
  text   = "Isolate before hands go in."
  hazard = "energy"
  source = "trade practice"
}

step "datum" {
  title   = "Read the datum"
  lasting = true
  reading "base" {
    ask      = "Datum: reading"
    unit     = "um"
    with     = instrument.lever
    positive = "high"
    range    = [um(-50), um(50)]
  }
}

step "warm" {
  title    = "Warm the spindle"
  lasting  = true
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
  hold_point = signoff.inspector
  wait "cool" {
    why      = "the part is warm"
    at_least = minutes(5)
    until {
      ask   = "Part: diameter, reading ${each.take}"
      unit  = "mm"
      with  = instrument.comparator
      every = minutes(5)
      agree = um(0.5)
      takes = 3
    }
  }
  reading "air" {
    ask   = "Air: temperature"
    unit  = "celsius"
    range = [celsius(5), celsius(40)]
  }
  reading "part" {
    ask   = "Part: temperature"
    unit  = "celsius"
    range = [celsius(5), celsius(40)]
  }
  result "warmer" {
    title    = "Part less air"
    value    = reading.part - reading.air
    unit     = "kelvin"
    positive = "part warmer"
  }
  gate "at_rest" {
    title     = "The part has the temperature of the air"
    of        = result.warmer
    within    = plus_minus(kelvin(1))
    source    = "shop rule"
    if_failed = [correction.wait_on, reject]
  }
}

step "vee" {
  title = "Read the vee"
  when  = given.style == "vee"
  reading "steep" {
    ask      = "Vee: angle against its gauge"
    unit     = "arcsec"
    with     = instrument.level
    positive = "steep"
    range    = [arcsec(-600), arcsec(600)]
  }
  gate "vee_true" {
    title     = "The vee fits its gauge"
    of        = reading.steep
    within    = plus_minus(arcsec(30))
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "screw" {
  title   = "Tighten screw ${each.screw}"
  spindle = "stopped"
  caution = [caution.isolate]
  needs   = [step.warm]
  each "screw" { of = numbered(given.screws) }
  do = ["Tighten screw ${each.screw}, at the ${given.end[each.screw]} end."]

  reading "pull" {
    each "torque" { of = ["half", "full"] }
    ask      = "Screw ${each.screw}, ${each.torque}: reading"
    unit     = "um"
    with     = instrument.lever
    positive = "up"
    range    = [um(-100), um(100)]
  }
  reading "gap" {
    when  = reading.pull.full > um(20)
    ask   = "Screw ${each.screw}: gap under the pad"
    unit  = "mm"
    range = [mm(0), mm(1)]
  }
  reading "seen" {
    when     = reading.pull.full > um(20)
    ask      = "Screw ${each.screw}: photograph"
    evidence = true
  }
  reading "remark" {
    when = reading.pull.full > um(20)
    ask  = "Screw ${each.screw}: what was seen?"
    text = true
  }
  reading "turns" {
    ask   = "Screw ${each.screw}: how many quarter turns?"
    count = true
    range = [0, 8]
  }
  result "gap_left" {
    title    = "Gap that is left"
    value    = reading.gap
    unit     = "mm"
    positive = "never below nothing"
  }
  gate "tight" {
    title     = "The screw is tight"
    holds     = reading.turns > 0
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "seen_sound" {
    title     = "Nothing cracked was seen"
    holds     = reading.remark != "cracked"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "closed" {
    title     = "No gap under this pad"
    of        = result.gap_left
    at_most   = mm(0.05)
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "judge" {
  title = "All screws together"
  result "lift" {
    title    = "Each screw lifts the head"
    value    = { for n, r in reading.pull : n => r.full - reading.base }
    unit     = "um"
    positive = "up"
  }
  gate "still" {
    title     = "No screw lifts the head"
    of        = result.lift
    within    = plus_minus(um(10))
    source    = "shop rule"
    if_failed = [correction.relieve, concession]
  }
}

correction "wait_on" {
  title    = "Wait on"
  do       = ["Leave it alone for a while."]
  attempts = 2
}
correction "relieve" {
  title    = "Relieve the worst screw"
  do       = ["Relieve screw ${where_greatest(result.lift)}."]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title    = "Accepted by"
  concedes = true
}
