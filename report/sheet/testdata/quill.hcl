procedure "quill" {
  title    = "Drill quill: play and lean"
  machine  = "bench drill"
  revision = "3"
  purpose  = "Find how much the quill shakes and how it leans."
  duration = minutes(30)
}

given "reach" {
  ask   = "Quill: how far out"
  unit  = "mm"
  range = [mm(50), mm(100)]
}
given "bushes" {
  ask   = "Quill: how many bushes?"
  count = true
  range = [1, 3]
}

instrument "dial" {
  kind          = "dial indicator of 0.01 mm"
  resolution    = um(10)
  error         = um(10)
  repeatability = um(3)
}

caution "hands" {
  text   = "Isolate before hands go in."
  hazard = "energy"
  source = "common practice"
}

step "warm" {
  title    = "Run it warm"
  spindle  = "turning"
  caution  = [caution.hands]
  lasting  = true
  good_for = minutes(30)
  do       = ["Middle speed, nothing in the chuck."]
  wait "run" {
    why      = "a cold quill is looser"
    at_least = minutes(10)
  }
}

step "shake" {
  title   = "Shake it"
  needs   = [step.warm]
  spindle = "stopped"
  tools   = ["dial on the table"]
  do      = ["Pull, then push, with the same hand."]

  reading "pulled" {
    each "side" { of = ["left", "front"] }
    ask      = "Quill, ${each.side}: pulled less pushed"
    unit     = "um"
    repeat   = 2
    with     = instrument.dial
    positive = "towards the operator"
    nudge    = "towards the operator"
    closure  = um(20)
    range    = [um(-200), um(200)]
  }
  result "play" {
    title    = "Play, the worse side"
    value    = greatest([for s, x in reading.pulled : abs(mean(x))])
    unit     = "um"
    positive = "never below nothing"
  }
  gate "tight" {
    title     = "The quill is tight"
    of        = result.play
    at_most   = um(50) * given.reach / mm(100)
    source    = "shop rule"
    if_failed = [correction.bush, concession]
  }
}

step "look" {
  title = "Look at bush ${each.bush}"
  each "bush" { of = numbered(given.bushes) }
  reading "wear" {
    ask    = "Bush ${each.bush}: how does it look?"
    choose = ["even", "oval", "scored"]
  }
  reading "photo" {
    ask      = "Bush ${each.bush}: a photograph"
    evidence = true
  }
}

correction "bush" {
  title    = "Close the bush"
  amount   = result.play / 2
  unit     = "um"
  positive = "tighter"
  negative = "looser"
  do       = ["A quarter turn of the nut at a time."]
}

signoff "fitter" {
  title    = "Measured by"
  concedes = true
}
