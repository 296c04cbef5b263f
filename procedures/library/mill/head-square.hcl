procedure "head-square" {
  title    = "Mill head square to the table, in two planes"
  machine  = "milling machine"
  revision = "1"
  purpose  = "Sweep an indicator on the spindle over the table, and take out the nod of the head, then its tilt. Sweep again when all bolts have had their last turn, because tightening moves a head."
  duration = minutes(75)
  sources = [
    "sweeping a head in with an indicator: trade practice",
    "see the reference page of tram() for the way a head leans",
  ]
}

# The table's slots do not matter: the tip stands on the same ground block at all four places.
given "sweep" {
  ask   = "Table: diameter that the indicator sweeps"
  unit  = "mm"
  range = [mm(150), mm(500)]
}
given "nod_arm" {
  ask   = "Nod pivot: height above the second indicator"
  unit  = "mm"
  range = [mm(50), mm(500)]
}
given "tilt_arm" {
  ask   = "Tilt pivot: height above the second indicator"
  unit  = "mm"
  range = [mm(50), mm(500)]
}

step "prepare" {
  title   = "Set the machine as it mills"
  spindle = "stopped"
  caution = [caution.isolate]
  tools = [
    "lever indicator on an arm for the spindle, as short and stiff as the sweep allows",
    "ground block, the same for all places",
    "second indicator on a magnetic base",
    "oil stone, soft hammer, torque wrench",
  ]
  do = [
    "Wipe the table; draw a stone over it once, lightly. Wipe the block.",
    "Table in the middle of its travels. Quill where it is used.",
    "Pinch the knee, the saddle, the table and the quill: a free knee drops its front.",
    "Set both scales of the head to nothing. They are only good enough to begin with.",
    "Out of gear, so that the spindle turns by hand.",
  ]
  confirm "as_in_use" { ask = "Knee, saddle, table and quill locked?" }
}

step "sweep_head" {
  title   = "Sweep the table, all bolts tight"
  spindle = "stopped"
  do = [
    "Front is where the operator stands; right is at the operator's right hand.",
    "Tip on the block at the front, a fifth of a turn in. Set the dial to nothing.",
    "Lift the tip before the block goes on. Never drag it over a slot.",
    "Turn by the spindle, never by the arm: a bent arm reads as a bent head.",
  ]

  reading "side" {
    ask      = "Table, ${each.place}: needle"
    unit     = "mm"
    with     = instrument.fine_lever
    positive = "table high"
    nudge    = "table high"
    push     = "Slip a feeler under the tip"
    range    = [-mm(0.4), mm(0.4)]
    closure  = um(4)
    each "place" { of = ["front", "right", "rear", "left"] }
  }

  result "nodded" {
    title    = "Table over the sweep, front against rear"
    value    = reading.side.front - reading.side.rear
    unit     = "mm"
    positive = "front high"
  }
  result "nod_allowed" {
    title    = "Front may be high by so much"
    value    = scaled(table.mill.head_lengthwise, mm(300), given.sweep, um(12), um(1))
    unit     = "mm"
    positive = "never below nothing"
  }
  result "tilted" {
    title    = "Table over the sweep, left against right"
    value    = reading.side.left - reading.side.right
    unit     = "mm"
    positive = "left high"
  }

  gate "square_lengthwise" {
    title     = "Square front to rear, or the front a little high"
    of        = result.nodded
    within    = between(mm(0), result.nod_allowed)
    source    = "typical of ISO 1701, verify: the knee drops its front with weight and wear"
    if_failed = [correction.nod, reject]
  }
  gate "square_across" {
    title     = "Square left to right"
    of        = result.tilted
    within    = plus_minus(scaled(table.mill.head_across, mm(300), given.sweep, um(8), um(1)))
    source    = "typical of ISO 1701, verify"
    if_failed = [correction.tilt, reject]
  }
}

step "prove" {
  title   = "Give every bolt its last turn, and sweep again"
  spindle = "stopped"
  do = [
    "Tighten crosswise, in three rounds, to the maker's torque.",
    "Raise and lower the quill once. Lock it again.",
    "Set the dial to nothing at the front, on the block.",
  ]

  reading "proof" {
    like   = reading.side
    ask    = "Table, ${each.place}, last time: needle"
    tested = reading.side
    each "place" { of = ["front", "right", "rear", "left"] }
  }

  result "proof_nod" {
    title    = "Bolts tight: front against rear"
    value    = reading.proof.front - reading.proof.rear
    unit     = "mm"
    positive = "front high"
  }
  result "proof_tilt" {
    title    = "Bolts tight: left against right"
    value    = reading.proof.left - reading.proof.right
    unit     = "mm"
    positive = "left high"
  }

  gate "stays_lengthwise" {
    like      = gate.square_lengthwise
    title     = "Stays square front to rear when tightened"
    of        = result.proof_nod
    if_failed = [correction.settle, reject]
    test      = "mill_head_lengthwise"
  }
  gate "stays_across" {
    like      = gate.square_across
    title     = "Stays square left to right when tightened"
    of        = result.proof_tilt
    if_failed = [correction.settle, reject]
    test      = "mill_head_across"
  }
}

# Nod first: its bolts sit behind the tilt, and slackening them lets the tilt go.
correction "nod" {
  title    = "Nod the head"
  amount   = (result.nodded - result.nod_allowed / 2) * given.nod_arm / given.sweep
  unit     = "mm"
  positive = "nose towards the operator"
  negative = "nose towards the column"
  spindle  = "stopped"
  caution  = [caution.head_swings]
  do = [
    "Second indicator from the front against the head, at the height measured. Set it to nothing.",
    "Slacken the nod bolts until the head just moves. Turn the nod screw, always ending upwards.",
    "Tighten crosswise, then read the second indicator.",
  ]
  attempts = 5
  disturbs = [gate.square_across]

  moved {
    ask  = "Nose, tight: moved, plus towards the operator"
    with = instrument.lever
  }
  should_change {
    result = result.nodded
    by     = -amount * given.sweep / given.nod_arm
  }
}

correction "tilt" {
  title    = "Tilt the head"
  amount   = result.tilted * given.tilt_arm / given.sweep
  unit     = "mm"
  positive = "nose to the left"
  negative = "nose to the right"
  spindle  = "stopped"
  caution  = [caution.head_swings]
  do = [
    "Second indicator from the left against the head, at the height measured. Set it to nothing.",
    "Slacken the tilt bolts until the head just moves. Leave the nod bolts alone.",
    "Turn the tilt screw, always ending the same way. Tighten crosswise, then read.",
  ]
  attempts = 5

  moved {
    ask  = "Nose, tight: moved, plus to the left"
    with = instrument.lever
  }
  should_change {
    result = result.tilted
    by     = -amount * given.sweep / given.tilt_arm
  }
}

correction "settle" {
  title   = "Let the bolts settle, and sweep from the start"
  spindle = "stopped"
  caution = [caution.head_swings]
  do = [
    "Look for a dry thread, a bruised washer, a chip under a bolt head. Oil the threads.",
    "Tighten again crosswise, in small steps.",
  ]
  attempts = 3
  disturbs = [gate.square_lengthwise, gate.square_across]
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
}

rehearsal "a good head" {
  seeds = 20
  # Plus: front high and left high, over the sweep. The last two: what the last turn of the bolts adds.
  hidden {
    nod        = um(10)
    tilt       = um(3)
    slips_nod  = um(1)
    slips_tilt = um(0)
  }
  noise {
    side  = um(0.3)
    proof = um(0.3)
  }
  answer {
    sweep    = mm(250)
    nod_arm  = mm(180)
    tilt_arm = mm(220)
    side = (
      each.place == "rear" ? -hidden.nod :
      each.place == "left" ? (hidden.tilt - hidden.nod) / 2 :
      each.place == "right" ? -(hidden.tilt + hidden.nod) / 2 : mm(0)
    )
    proof = (
      each.place == "rear" ? -hidden.nod - hidden.slips_nod :
      each.place == "left" ? (hidden.tilt + hidden.slips_tilt - hidden.nod - hidden.slips_nod) / 2 :
      each.place == "right" ? -(hidden.tilt + hidden.slips_tilt + hidden.nod + hidden.slips_nod) / 2 : mm(0)
    )
  }
  reacts "nod" {
    nod  = hidden.nod - moved * given.sweep / given.nod_arm
    tilt = hidden.tilt + um(6)
  }
  reacts "tilt" { tilt = hidden.tilt - moved * given.sweep / given.tilt_arm }
  reacts "settle" {
    slips_nod  = um(0)
    slips_tilt = um(0)
  }
  ends {
    outcome = "accepted"
    rounds  = { nod = 0, tilt = 0, settle = 0 }
  }
}

rehearsal "nodded forward, leaning to the right" {
  like  = "a good head"
  seeds = 20
  hidden {
    nod  = mm(0.14)
    tilt = -mm(0.11)
  }
  ends {
    outcome = "accepted"
    rounds  = { nod = at_most(2), tilt = at_most(2), settle = 0 }
  }
}

rehearsal "nodded back, leaning to the left" {
  like  = "a good head"
  seeds = 20
  hidden {
    nod  = -mm(0.09)
    tilt = mm(0.16)
  }
  ends {
    outcome = "accepted"
    rounds  = { nod = at_most(2), tilt = at_most(2), settle = 0 }
  }
}

rehearsal "nodded the wrong way first" {
  like = "nodded forward, leaning to the right"
  mistake "wrong_way" { of = correction.nod }
  ends {
    outcome = "accepted"
    said    = { nod = ["wrong_way"] }
  }
}

rehearsal "the clamp takes the tilt back" {
  like = "nodded forward, leaning to the right"
  mistake "undone" { of = correction.tilt }
  ends {
    outcome = "accepted"
    said    = { tilt = ["undone"] }
  }
}

rehearsal "the indicator reads the other way round" {
  like = "nodded back, leaning to the left"
  mistake "reversed" { of = reading.side }
  ends {
    outcome = "accepted"
    rounds  = { nod = at_most(2), tilt = at_most(2) }
  }
}

rehearsal "the last turn of the bolts moves the head" {
  like = "a good head"
  hidden {
    slips_nod  = um(25)
    slips_tilt = um(0)
  }
  ends {
    outcome = "accepted"
    rounds  = { settle = 1 }
  }
}

rehearsal "the last turn leans the head, at the edge of the limit" {
  like = "a good head"
  # So near the limits that the readings cannot show on which side.
  hidden {
    slips_nod  = um(0)
    slips_tilt = um(18)
  }
  ends {
    outcome = "accepted"
    rounds  = { settle = at_least(1) }
  }
}

rehearsal "the last turn nods the head back, to the edge of the limit" {
  like = "a good head"
  hidden {
    slips_nod  = -um(10)
    slips_tilt = um(0)
  }
  ends {
    outcome = "accepted"
    rounds  = { settle = 1 }
  }
}

rehearsal "both planes at the edge of the limit" {
  like = "a good head"
  hidden {
    nod  = um(0)
    tilt = um(15)
  }
  ends {
    outcome = "accepted"
    rounds  = { nod = 1, tilt = 1 }
  }
}

rehearsal "the nod screw is stripped" {
  like = "nodded forward, leaning to the right"
  reacts "nod" { moved = um(0) }
  ends {
    outcome = "rejected"
    out     = [gate.square_lengthwise, gate.square_across, gate.stays_lengthwise, gate.stays_across]
  }
}

rehearsal "the tilt screw is stripped" {
  like = "nodded forward, leaning to the right"
  reacts "tilt" { moved = um(0) }
  ends {
    outcome = "rejected"
    out     = [gate.square_across, gate.stays_lengthwise, gate.stays_across]
  }
}

rehearsal "a bolt that pulls the head forward whatever is done" {
  like = "the last turn of the bolts moves the head"
  reacts "settle" { slips_nod = hidden.slips_nod }
  ends {
    outcome = "rejected"
    out     = [gate.stays_lengthwise]
  }
}

rehearsal "a bolt that leans the head whatever is done" {
  like = "a good head"
  hidden {
    slips_nod  = um(0)
    slips_tilt = um(21)
  }
  reacts "settle" { slips_tilt = um(30) }
  ends {
    outcome = "rejected"
    out     = [gate.stays_across]
  }
}
