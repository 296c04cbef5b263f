# The sag of an indicator rig: clamped on a stiff mandrel with the reach that it
# will have on the machine, set to zero on top, and rolled over. Underneath it
# reads twice its sag. In a sweep an unknown sag makes the tailstock look high.

procedure "ref-rig-sag" {
  title    = "Sag of the indicator rig"
  machine  = "any"
  revision = "1"
  purpose  = "Find how far the rig hangs down by its own weight, for the very set-up that will sweep the tailstock. The sag is taken off there; a rig that hangs far or unevenly is stiffened first."
  decision = "guarded"
  duration = minutes(40)
  sources = [
    "zeroed on top and rolled over, half the reading: common practice",
    "0.02 mm: shop rule, estimate",
  ]
}

given "reach" {
  ask   = "Rig: reach from its clamp to the tip"
  unit  = "mm"
  range = [mm(30), mm(500)]
}

step "ready" {
  title   = "Build the rig on the mandrel"
  lasting = true
  caution = [caution.rolling]
  tools = [
    "stiff mandrel, as thick as what the rig is clamped on in use, in vee blocks or between centres",
    "the rig and its indicator, exactly as they will be used",
  ]
  do = [
    "Clamp the rig on the mandrel with a reach of ${given.reach}, the tip on the mandrel's own far end, square to it.",
    "The lightest indicator, the shortest arm, the thickest rod. Every joint nipped.",
    "From now on no joint is touched: what is touched hangs otherwise.",
  ]
  confirm "as_used" { ask = "Rig: reach and arms as on the machine?" }
}

step "roll" {
  title   = "Roll it over, three rounds"
  caution = [caution.rolling]
  do = [
    "Tip on TOP: set the needle to zero, once, before the first round.",
    "Roll mandrel and rig over together, tip underneath, and read. A mirror helps; do not lean on the rig.",
    "Plus is the plunger pushed in. A rig that hangs reads minus underneath.",
    "Roll on the same way, back to the top: that is the next round.",
  ]
  reading "needle" {
    each "round" { of = numbered(3) }
    each "place" { of = ["top", "under"] }
    ask      = "Tip ${each.place == "top" ? "on top" : "underneath"}, round ${each.round}: needle"
    unit     = "um"
    with     = instrument.lever
    positive = "plunger pushed in"
    nudge    = "against the tip"
    push     = "Push the tip in with a finger"
    closure  = um(4)
    range    = [um(-800), um(100)]
  }
  result "sag_round" {
    title    = "Sag of the rig, each round"
    value    = { for k, v in reading.needle : k => rig_sag(v.under - v.top) }
    unit     = "um"
    positive = "hangs down"
  }
}

step "judge" {
  title = "Three rounds together"

  result "scatter" {
    title    = "The rounds differ by"
    value    = spread(result.sag_round)
    unit     = "um"
    positive = "never below nothing"
  }
  gate "rounds_alike" {
    title     = "It hangs the same three times"
    of        = result.scatter
    at_most   = um(4)
    decision  = "simple" # a check of the set-up, not of the rig's sag
    source    = "shop rule, estimate"
    if_failed = [correction.nip, reject]
  }
  result "sag" {
    title    = "Sag of the rig, on the radius"
    value    = mean(result.sag_round)
    unit     = "um"
    positive = "hangs down"
  }
  # None hangs upwards: then the needle was read with the wrong sign.
  gate "hangs" {
    title     = "It hangs down, not up"
    of        = result.sag
    at_least  = um(-2)
    decision  = "simple"
    source    = "gravity, and two micrometres for the needle"
    if_failed = [correction.nip, reject]
  }
  gate "stiff" {
    title     = "It hangs little"
    of        = result.sag
    at_most   = um(20)
    source    = "shop rule, estimate"
    test      = "rig_sag"
    if_failed = [correction.stiffen, concession]
    upstream  = [gate.rounds_alike, gate.hangs]
  }
}

correction "nip" {
  title   = "Nip the joints, look at the sign, roll again"
  caution = [caution.rolling]
  do = [
    "Nip every joint of the rig and the clamp on the mandrel.",
    "Push the tip in with a finger: that is plus. Set to zero on top, and roll again.",
  ]
  disturbs = [gate.stiff, gate.rounds_alike, gate.hangs]
  attempts = 3
}

correction "stiffen" {
  title = "Stiffen the rig"
  do = [
    "Shorter reach if the sweep allows it: half the reach hangs an eighth as far. A thicker rod, a lighter indicator, fewer joints.",
    "The machine is swept with the rig as it is now.",
  ]
  caution  = [caution.rolling]
  disturbs = [gate.rounds_alike, gate.hangs]
  attempts = 4
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: a rig that hangs 12 reads -24 underneath.
rehearsal "a stiff rig" {
  seeds = 20
  hidden {
    sag  = um(9)
    slip = um(0) # how much further it hangs in the third round
    sign = 1     # -1 for a needle that is read with the wrong sign
  }
  spread { sag = um(5) }
  noise { needle = um(0.5) }
  answer {
    reach  = mm(120)
    needle = each.place == "top" ? um(0) : -2 * hidden.sign * (hidden.sag + (each.round == 3 ? hidden.slip : um(0)))
  }
  reacts "nip" {
    slip = um(0)
    sign = 1
  }
  reacts "stiffen" { sag = hidden.sag / 4 }
  ends {
    outcome = "accepted"
    rounds  = { nip = 0, stiffen = 0 }
  }
}

rehearsal "a long thin arm" {
  like  = "a stiff rig"
  seeds = 20
  hidden { sag = um(60) }
  ends {
    outcome = "accepted"
    rounds  = { stiffen = 1 }
  }
}

rehearsal "a joint that slips" {
  like = "a stiff rig"
  hidden { slip = um(15) }
  ends {
    outcome = "accepted"
    rounds  = { nip = 1 }
  }
}

rehearsal "a joint that will not hold" {
  like = "a stiff rig"
  hidden { slip = um(15) }
  reacts "nip" {}
  ends {
    outcome = "rejected"
    rounds  = { nip = 3 }
  }
}

rehearsal "read with the wrong sign" {
  like = "a stiff rig"
  hidden { sign = -1 }
  ends {
    outcome = "accepted"
    rounds  = { nip = 1 }
  }
}

rehearsal "read with the wrong sign every time" {
  like = "a stiff rig"
  hidden { sign = -1 }
  reacts "nip" {}
  ends {
    outcome = "rejected"
    rounds  = { nip = 3 }
  }
}

rehearsal "a reach that cannot be shorter" {
  like = "a stiff rig"
  hidden { sag = um(60) }
  reacts "stiffen" {}
  ends {
    outcome = "conceded"
    rounds  = { stiffen = 4 }
  }
}

rehearsal "at the limit" {
  like  = "a stiff rig"
  seeds = 5
  hidden { sag = um(19.7) }
  ends {
    outcome = "accepted"
    rounds  = { stiffen = at_most(1) }
  }
}

rehearsal "a turn of the needle misread" {
  like = "a stiff rig"
  mistake "turn" { of = reading.needle }
  ends {
    outcome = "accepted"
    rounds  = { nip = 0, stiffen = 0 }
    said    = { needle = ["range"] }
  }
}
