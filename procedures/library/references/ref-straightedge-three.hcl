# Three straightedges against one another, two at a time, on their sides on a
# plate with the working edges facing: the gap between them is wide where either
# is hollow. From three sets of gaps the error of each edge follows.

procedure "ref-straightedge-three" {
  title    = "Three straightedges against one another"
  machine  = "any"
  revision = "1"
  purpose  = "Find the error of each of three straightedges without a master. Two that fit each other may be one crowned and one hollow; the third tells."
  decision = "guarded"
  duration = hours(2)
  sources  = ["the method of three, two at a time: common practice"]
}

given "length" {
  ask   = "Edges: length read, first to last station"
  unit  = "mm"
  range = [mm(150), mm(1000)]
}
given "edge_kind" {
  ask    = "Edges: knife, or grade of flat ones, DIN 874"
  choose = ["knife", "flat 00", "flat 0", "flat 1", "flat 2"]
}

step "ready" {
  title   = "Three edges at rest"
  lasting = true
  caution = [caution.plate_work]
  tools = [
    "surface plate, or a bench flat enough to lie on",
    "three straightedges, six equal thin strips, chalk",
    "inside micrometer or bore gauge of 0.001 mm (0.00005 in)",
  ]
  do = [
    "Chalk A, B and C on them. Mark the left end of each.",
    "Mark seven stations on each, ${given.length / 6} apart, alike on all three.",
    "Wipe them, feel for burrs. Lay each on its side on two strips, two ninths of its whole length from its ends.",
  ]
  wait "warmth" {
    why      = "an edge that was carried is warmer on one side, and bowed"
    at_least = minutes(60)
  }
}

# One pair is one set-up, with a closing reading of its own: the gap between two
# edges that are laid anew is another one.
step "pairs" {
  title   = "Two edges face to face, ${each.pair == "a_b" ? "A and B" : each.pair == "b_c" ? "B and C" : "A and C"}"
  caution = [caution.plate_work]
  each "pair" { of = ["a_b", "b_c", "a_c"] }
  do = [
    "Working edges facing, 20 to 30 mm (about 1 in) apart, station against station. All left ends at the left.",
    "To face the other way an edge is ROLLED over about its length. Its ends are never swapped.",
    "Set the gap alike at both ends, to 0.02 mm (0.001 in). Hands off for five minutes.",
    "Read from left to right. A narrow gap is a proud edge. Last, the first station again.",
  ]
  reading "gap" {
    along   = stations(mm(0), given.length, 7)
    ask     = "${each.pair == "a_b" ? "A, B" : each.pair == "b_c" ? "B, C" : "A, C"} at ${each.station}: gap"
    unit    = "mm"
    with    = instrument.inside_gauge
    closure = um(3)
    range   = [mm(5), mm(100)]
  }
}

step "judge" {
  title = "What each edge is out by"

  result "maps" {
    title    = "Errors of the edges along their length"
    value    = three_way(-reading.gap.a_b, -reading.gap.b_c, -reading.gap.a_c)
    unit     = "um"
    positive = "edge proud"
  }
  result "bows" {
    title = "In the middle, each edge stands proud by"
    value = {
      a = bow(result.maps.a)
      b = bow(result.maps.b)
      c = bow(result.maps.c)
    }
    unit     = "um"
    positive = "crowned"
  }
  result "straight" {
    title = "Each edge is out of straight by"
    value = {
      a = straightness(result.maps.a, "minimum_zone")
      b = straightness(result.maps.b, "minimum_zone")
      c = straightness(result.maps.c, "minimum_zone")
    }
    unit     = "um"
    positive = "never below nothing"
  }
  gate "edges" {
    title = "Each edge straight for its kind"
    of    = result.straight
    at_most = (given.edge_kind == "knife" ? standard_limit("din_874_2", "straightness", "single", given.length).limit
      : given.edge_kind == "flat 00" ? standard_limit("din_874_1", "straightness", "00", given.length).limit
      : given.edge_kind == "flat 0" ? standard_limit("din_874_1", "straightness", "0", given.length).limit
      : given.edge_kind == "flat 1" ? standard_limit("din_874_1", "straightness", "1", given.length).limit
      : standard_limit("din_874_1", "straightness", "2", given.length).limit)
    source    = "knife: DIN 874-2; flat: DIN 874-1; typical, verify"
    test      = "edge_straightness"
    if_failed = [correction.clean, concession]
  }
}

# Which way each is out, for whoever scrapes or chooses: the limit knows no way.
step "note" {
  title = "Write it down beside the edges"
  do = [
    "Write on the boxes, with the day: A ${result.bows.a}, B ${result.bows.b}, C ${result.bows.c}. Plus: crowned, proud in the middle.",
    "The record keeps the map of each, station by station.",
  ]
}

correction "clean" {
  title   = "Clean, let them rest, read again"
  caution = [caution.plate_work]
  do = [
    "Wipe the edges, stone off burrs. Leave them alone for an hour.",
    "If the same edge is named both times it is that one: put it aside, or use it with its map.",
  ]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: bows of 1, -2 and 1.5 make gaps in the middle of +1, +0.5 and
# -2.5 against the ends; (-1 + 2.5 + 0.5)/2 is 1 again.
rehearsal "three good edges" {
  seeds = 20
  hidden {
    a    = um(1) # proud in the middle
    b    = um(-2)
    c    = um(1.5)
    burr = um(0) # on B, its middle station, until it is found
  }
  noise { gap = um(0.4) }
  answer {
    length    = mm(600)
    edge_kind = "flat 0"
    gap = mm(25) - (((each.pair == "b_c" ? hidden.b + hidden.c : each.pair == "a_b" ? hidden.a + hidden.b : hidden.a + hidden.c)
      * 4 * each.station * (given.length - each.station) / given.length / given.length)
      + (each.pair != "a_c" && each.station == mm(300) ? hidden.burr : um(0)))
  }
  reacts "clean" { burr = um(0) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
  }
}

rehearsal "C is bent" {
  like  = "three good edges"
  seeds = 3
  hidden { c = um(22) }
  ends {
    outcome = "conceded"
    rounds  = { clean = 2 }
  }
}

rehearsal "two that fit each other, one crowned and one hollow" {
  like  = "three good edges"
  seeds = 3
  hidden {
    a = um(15)
    b = um(-15)
  }
  ends {
    outcome = "conceded"
    rounds  = { clean = 2 }
  }
}

rehearsal "a burr on B" {
  like  = "three good edges"
  seeds = 3
  hidden { burr = um(18) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
  }
}

rehearsal "A at the limit" {
  like  = "three good edges"
  seeds = 3
  hidden { a = um(8) } # where 8 is allowed
  ends { outcome = "conceded" }
}

rehearsal "a turn of the thimble misread, found by the closing reading" {
  like = "three good edges"
  mistake "turn" { of = reading.gap }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
    said    = { gap = ["void"] }
  }
}
