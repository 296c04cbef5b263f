# Answers that are words, conditions on a given, on a step and on a reading,
# and a computation that may have no answer.

procedure "parts" {
  title    = "See how two parts fit"
  machine  = "any"
  revision = "1"
  purpose  = "Look, count and write down."
  decision = "simple"
}

given "form" {
  ask    = "Way: which form?"
  choose = ["vee", "flat"]
}
given "depth" {
  when  = given.form == "vee"
  ask   = "Vee: depth"
  unit  = "mm"
  range = [mm(1), mm(50)]
}
given "maker" {
  ask  = "Machine: who made it?"
  text = true
}

instrument "gauge" {
  kind       = "feeler gauge"
  resolution = um(10)
  error      = um(5)
}

step "clean" {
  title = "Clean the ways"
  do    = ["Wipe the ways of the ${given.maker} machine."]
}

step "vee" {
  title = "Read the vee"
  when  = given.form == "vee"
  reading "open" {
    ask   = "Vee of ${given.depth}: gap"
    unit  = "mm"
    with  = instrument.gauge
    range = [mm(0), mm(2)]
  }
  gate "closed" {
    title     = "The vee is closed"
    of        = reading.open
    at_most   = mm(0.1)
    source    = "shop rule"
    if_failed = [reject]
  }
}

step "look" {
  title = "Look at the print"
  reading "end" {
    ask    = "Where did it mark?"
    choose = ["large", "small", "all"]
  }
  reading "part" {
    when  = reading.end != "all"
    ask   = "How much of the length marked?"
    unit  = "%"
    range = [percent(1), percent(99)]
  }
  reading "spots" {
    ask   = "How many spots in a square inch?"
    count = true
    range = [0, 40]
  }
  reading "remark" {
    ask  = "What was seen?"
    text = true
  }
  reading "picture" {
    ask      = "Photograph of the print"
    evidence = true
  }
  result "short" {
    title    = "Length that did not mark"
    value    = percent(100) - reading.part
    unit     = "%"
    positive = "never below nothing"
  }
  gate "bears" {
    title     = "Most of the length marks"
    of        = result.short
    at_most   = percent(20)
    source    = "shop rule"
    if_failed = [correction.blue, reject]
  }
  result "each_spot" {
    title    = "Share of one spot"
    value    = percent(100) / reading.spots
    unit     = "%"
    positive = "never below nothing"
  }
  gate "fine" {
    title     = "The spots are fine"
    of        = result.each_spot
    at_most   = percent(10)
    source    = "shop rule"
    if_failed = [correction.blue, concession]
  }
  gate "clear" {
    title     = "Nothing odd was seen"
    holds     = reading.remark != "cracked"
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "blue" {
  title    = "Blue it again, thinner"
  do       = ["Wipe, blue thinner."]
  attempts = 3
}

signoff "fitter" {
  title    = "Carried out by"
  concedes = true
}
