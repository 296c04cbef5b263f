# Three squares against one another, two at a time, blades back to back on a
# plate: the distance between the blades at the foot less that at the top is the
# sum of both errors. From three such sums each square's own error follows.

procedure "ref-three-squares" {
  title    = "Three squares against one another"
  machine  = "any"
  revision = "1"
  purpose  = "Find the error of each of three squares without a master. Two that agree prove nothing; with a third the bad one is named."
  decision = "guarded"
  duration = hours(1.5)
  sources  = ["the method of three, two at a time: common practice"]
}

given "height" {
  ask   = "Blades: height between the two places read"
  unit  = "mm"
  range = [mm(60), mm(500)]
}
given "square_grade" {
  ask    = "Squares: their grade by DIN 875"
  choose = ["00", "0", "1", "2"]
}

step "ready" {
  title   = "Plate and squares at rest"
  lasting = true
  caution = [caution.plate_work]
  tools = [
    "surface plate, three squares of about one height, chalk",
    "inside micrometer or bore gauge of 0.001 mm (0.00005 in)",
  ]
  do = [
    "Chalk A, B and C on the squares. Mark on each blade the foot and the top, ${given.height} apart.",
    "Wipe plate and soles, feel for burrs. All side by side for an hour.",
  ]
  confirm "flat" { ask = "Plate: proved flat where the squares stand?" }
}

step "pairs" {
  title   = "Two at a time, back to back, ${each.set} standing"
  caution = [caution.plate_work]
  each "set" { of = ["first", "second"] }
  do = [
    each.set == "first" ? "Take the pairs one after another." : "Lift both squares off and wipe the soles before each pair: it stands anew.",
    "Stand two squares back to back, soles pointing away, blades 30 mm (1.2 in) or so apart. A strip along their sides keeps them in line.",
    "Read low at the foot mark, then high at the top mark. The squares must not move between.",
    "Keep hands off the blades: grip the soles.",
  ]
  reading "distance" {
    each "pair" { of = ["a_b", "b_c", "a_c"] }
    each "place" { of = ["foot", "top"] }
    ask    = "${each.pair == "a_b" ? "A and B" : each.pair == "b_c" ? "B and C" : "A and C"}, ${each.place}: between the blades"
    unit   = "mm"
    repeat = 2
    with   = instrument.inside_gauge
    range  = [mm(5), mm(150)]
  }
  result "closing" {
    title = "Blades closer at the top by"
    value = {
      a_b = mean(reading.distance.a_b.foot) - mean(reading.distance.a_b.top)
      b_c = mean(reading.distance.b_c.foot) - mean(reading.distance.b_c.top)
      a_c = mean(reading.distance.a_c.foot) - mean(reading.distance.a_c.top)
    }
    unit     = "um"
    positive = "closer at the top"
  }
}

step "judge" {
  title = "Which square is out"

  result "scatter" {
    title    = "The two standings differ by, at most"
    value    = greatest(abs(result.closing.first - result.closing.second))
    unit     = "um"
    positive = "never below nothing"
  }
  gate "stands_alike" {
    title     = "The squares stand the same way twice"
    of        = result.scatter
    at_most   = um(5)
    decision  = "simple" # a check of the set-up, not of the squares
    source    = "shop rule, estimate"
    if_failed = [correction.clean, reject]
  }
  result "errors" {
    title = "Errors of the squares over this height"
    value = three_way(
      (result.closing.first.a_b + result.closing.second.a_b) / 2,
      (result.closing.first.b_c + result.closing.second.b_c) / 2,
      (result.closing.first.a_c + result.closing.second.a_c) / 2)
    unit     = "um"
    positive = "blade leans outwards"
  }
  gate "squares" {
    title     = "Each square for its grade"
    of        = result.errors
    within    = plus_minus(standard_limit("din_875", "squareness", given.square_grade, given.height).limit)
    source    = "DIN 875-1 over the height read; typical, verify"
    test      = "square_squareness"
    if_failed = [correction.clean, concession]
    upstream  = [gate.stands_alike, accepted["ref-plate-profile"]]
  }
}

# What others take off: an error over a height says nothing without the height.
step "note" {
  title = "Write it down beside the squares"
  do    = ["Write on the boxes, with the day, over ${given.height}: A ${result.errors.a}, B ${result.errors.b}, C ${result.errors.c}. Plus: blade leans outwards, away from the sole."]
}

correction "clean" {
  title   = "Clean, and stand them again"
  caution = [caution.plate_work]
  do = [
    "Wipe soles, plate and blades. Feel every sole for a burr or a grain, stone it off.",
    "If one square is named both times it is that one: put it aside, or note its error.",
  ]
  disturbs = [gate.squares]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }
signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# Worked by hand: errors 4, -3 and 6 close by 1, 3 and 10; (1 + 10 - 3)/2 is 4.
rehearsal "three good squares" {
  seeds = 20
  hidden {
    a     = um(4)
    b     = um(-3)
    c     = um(6)
    grain = um(0) # under A, in the second standing only
  }
  noise { distance = um(0.5) }
  answer {
    height       = mm(200)
    square_grade = "1"
    distance = mm(30) - (each.place == "foot" ? um(0)
      : (each.pair == "b_c" ? hidden.b + hidden.c : each.pair == "a_b" ? hidden.a + hidden.b : hidden.a + hidden.c)
      + (each.set == "second" && each.pair != "b_c" ? hidden.grain : um(0)))
  }
  reacts "clean" { grain = um(0) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
  }
}

rehearsal "B is the bad one" {
  like  = "three good squares"
  seeds = 5
  hidden { b = um(38) }
  ends {
    outcome = "conceded"
    rounds  = { clean = 2 }
  }
}

rehearsal "a grain under A the second time" {
  like  = "three good squares"
  seeds = 5
  hidden { grain = um(25) }
  ends {
    outcome = "accepted"
    rounds  = { clean = 1 }
  }
}

rehearsal "a burr that is not found" {
  like = "three good squares"
  hidden { grain = um(25) }
  reacts "clean" {}
  ends {
    outcome = "rejected"
    rounds  = { clean = 2 }
  }
}

rehearsal "A at the limit" {
  like  = "three good squares"
  seeds = 5
  hidden { a = um(20) } # where 20 is allowed
  ends { outcome = "conceded" }
}

rehearsal "a turn of the thimble misread, found by the second take" {
  like = "three good squares"
  mistake "turn" { of = reading.distance }
  ends {
    outcome = "accepted"
    rounds  = { clean = 0 }
    said    = { distance = ["turn"] }
  }
}
