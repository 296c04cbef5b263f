# A straightedge beside a slide: an indicator runs along it, then the edge is
# rolled over about its length, the indicator faces the other way, and the same
# stations are read again. Half the sum is the edge; half the difference is the
# slide, which drops out.

procedure "ref-straightedge-flip" {
  title    = "Straightedge proved by rolling it over"
  machine  = "any"
  revision = "1"
  purpose  = "Find by how much a straightedge is not straight, with a slide that need not be straight itself. The edge is not corrected: it is passed, used with its map, or put aside."
  decision = "guarded"
  duration = hours(1.5)
  sources  = ["half the sum of readings on both sides, less their end-point lines: common practice"]
}

given "length" {
  ask   = "Edge: length read, first to last station"
  unit  = "mm"
  range = [mm(150), mm(1000)]
}
given "edge_kind" {
  ask    = "Edge: knife, or grade of a flat one, DIN 874"
  choose = ["knife", "flat 00", "flat 0", "flat 1", "flat 2"]
}

step "ready" {
  title   = "Edge at rest on its two points"
  lasting = true
  caution = [caution.plate_work]
  tools = [
    "indicator of 0.001 mm (0.00005 in) on a slide: a lathe's saddle, a mill's table",
    "two equal blocks, chalk",
  ]
  do = [
    "Mark seven stations along the edge, ${given.length / 6} apart. Mark its left end.",
    "Lay it on its side along the slide, on two equal blocks, two ninths of its whole length from its ends. The working edge faces the indicator.",
    "Wipe it, feel for burrs, leave it for an hour: a hand on one side bows it.",
  ]
  wait "warmth" {
    why      = "an edge that was carried is warmer on one side, and bowed"
    at_least = minutes(60)
  }
}

step "first_side" {
  title = "Read along it as it lies"
  do = [
    "Set the edge so that the needle shows about the same at both ends.",
    "Come to each station from the left, never back. Plus is the plunger pushed in: the edge stands proud there.",
  ]
  reading "as_laid" {
    along    = stations(mm(0), given.length, 7)
    ask      = "As laid, at ${each.station}: needle"
    unit     = "um"
    with     = instrument.fine
    positive = "edge proud"
    nudge    = "towards the indicator"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    closure  = um(2)
    range    = [um(-200), um(200)]
  }
}

step "other_side" {
  title   = "Roll it over, and read again"
  needs   = [step.first_side]
  caution = [caution.plate_work]
  do = [
    "Roll the edge over about its LENGTH. Its left end stays at the left: swapped end for end, half of its error hides.",
    "The working edge now faces the other way. Put the indicator to that side.",
    "Same blocks, same stations, the needle about the same at both ends.",
  ]
  confirm "left_end" { ask = "Edge: marked end still at the left?" }
  reading "rolled" {
    along    = stations(mm(0), given.length, 7)
    ask      = "Rolled over, at ${each.station}: needle"
    unit     = "um"
    with     = instrument.fine
    positive = "edge proud"
    nudge    = "towards the indicator"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    closure  = um(2)
    range    = [um(-200), um(200)]
  }

  result "slide" {
    title    = "The slide is out of straight by"
    value    = straightness(slide_error(reading.as_laid, reading.rolled), "minimum_zone")
    unit     = "um"
    positive = "never below nothing"
  }
  # Beyond this the half of a difference is lost in where exactly a station was.
  gate "slide_fair" {
    title     = "The slide runs fairly straight"
    of        = result.slide
    at_most   = um(60)
    decision  = "simple" # a check of the set-up, not of the edge
    source    = "shop rule, estimate"
    if_failed = [correction.clean, reject]
  }
  result "map" {
    title    = "Error of the edge along its length"
    value    = edge_error(reading.as_laid, reading.rolled)
    unit     = "um"
    positive = "edge proud"
  }
  result "straight" {
    title    = "The edge is out of straight by"
    value    = straightness(result.map, "minimum_zone")
    unit     = "um"
    positive = "never below nothing"
  }
  gate "edge" {
    title = "Straight for its kind"
    of    = result.straight
    at_most = (given.edge_kind == "knife" ? standard_limit("din_874_2", "straightness", "single", given.length).limit
      : given.edge_kind == "flat 00" ? standard_limit("din_874_1", "straightness", "00", given.length).limit
      : given.edge_kind == "flat 0" ? standard_limit("din_874_1", "straightness", "0", given.length).limit
      : given.edge_kind == "flat 1" ? standard_limit("din_874_1", "straightness", "1", given.length).limit
      : standard_limit("din_874_1", "straightness", "2", given.length).limit)
    source    = "knife: DIN 874-2; flat: DIN 874-1; typical, verify"
    test      = "edge_straightness"
    if_failed = [correction.clean, concession]
    upstream  = [gate.slide_fair]
  }
}

correction "clean" {
  title    = "Clean, let it rest, read both sides again"
  caution  = [caution.plate_work]
  do       = ["Wipe edge and blocks, stone off burrs. Nip the slide's gib. Leave the edge alone for an hour."]
  disturbs = [gate.edge, gate.slide_fair]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: in the middle an edge 1 proud and a slide 8 towards the first
# side read 9 and -7; half the sum is 1.
rehearsal "a good knife edge" {
  seeds = 20
  hidden {
    bow   = um(1) # of the edge, in its middle
    slide = um(8) # of the slide, in its middle
    burr  = um(0) # at 100 mm, on the first side only
    loose = um(0) # what a loose gib adds to the slide's bow
  }
  noise {
    as_laid = um(0.2)
    rolled  = um(0.2)
  }
  answer {
    length    = mm(300)
    edge_kind = "knife"
    as_laid = ((hidden.bow + hidden.slide + hidden.loose) * 4 * each.station * (given.length - each.station) / given.length / given.length
      + (each.station == mm(100) ? hidden.burr : um(0)))
    rolled = (hidden.bow - hidden.slide - hidden.loose) * 4 * each.station * (given.length - each.station) / given.length / given.length
  }
  reacts "clean" {
    burr  = um(0)
    loose = um(0)
  }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
  }
}

rehearsal "a flat edge of grade 1, a little hollow" {
  like  = "a good knife edge"
  seeds = 3
  hidden { bow = um(-5) }
  answer { edge_kind = "flat 1" }
  ends { outcome = "accepted" }
}

rehearsal "a bent edge" {
  like  = "a good knife edge"
  seeds = 3
  hidden { bow = um(14) }
  ends {
    outcome = "conceded"
    rounds  = { clean = 2 }
  }
}

rehearsal "an edge at its limit" {
  like  = "a good knife edge"
  seeds = 3
  hidden { bow = um(3.3) } # where 3.2 is allowed
  ends { outcome = "conceded" }
}

rehearsal "a burr on the first side" {
  like  = "a good knife edge"
  seeds = 3
  hidden { burr = um(12) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
  }
}

rehearsal "a gib that was left loose" {
  like = "a good knife edge"
  hidden { loose = um(90) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
  }
}

rehearsal "a slide that is worn out" {
  like = "a good knife edge"
  hidden { loose = um(90) }
  reacts "clean" {}
  ends {
    outcome = "rejected"
    rounds  = { clean = 2 }
  }
}

rehearsal "a turn of the needle misread, found by the closing reading" {
  like = "a good knife edge"
  mistake "turn" { of = reading.as_laid }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
    said    = { as_laid = ["void"] }
  }
}
