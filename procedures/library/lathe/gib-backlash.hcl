# Gib and screw of a slide, at three places of its travel: how far it gives when
# it is pushed by hand, where it runs stiff, and how far the handle turns before
# the slide follows. A slide that is worn in the middle cannot be set right by
# its gib alone: tight there, it binds at the ends.

procedure "gib-backlash" {
  title    = "Gib and lost motion of a slide"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Set the gib so that the slide neither gives nor binds over its whole travel, and take up the lost motion of its screw. Scrape the slide's ways first where they are to be scraped."
  decision = "guarded"
  duration = minutes(90)
  sources = [
    "gib: at most 0.01 mm (0.0004 in) given when pushed by hand; shop rule, estimate",
    "lost motion: difference at one place, come to from either side; common practice",
  ]
}

given "slide" {
  ask    = "Which slide?"
  choose = ["cross slide", "top slide"]
}
given "allowed" {
  ask   = "Screw: lost motion that you allow"
  unit  = "mm"
  range = [mm(0.02), mm(0.5)]
}

step "ready" {
  title   = "Clean and oil the ${given.slide}"
  spindle = "stopped"
  caution = [caution.isolate]
  tools = [
    "lever indicator, 0.002 mm (0.0001 in)",
    "dial indicator, 0.01 mm (0.0004 in)",
    "screwdriver and spanner for gib and nut",
  ]
  do = [
    "Isolate: hands are between slide and chuck.",
    "Wipe the ways, run the slide from end to end, wipe again, oil thinly.",
    "Carriage locked to the bed. The slide not in use locked.",
  ]
}

step "gib" {
  title   = "Push the slide, feel it run"
  spindle = "stopped"
  do = [
    "Indicator on the saddle, tip on the side of the slide, square to its travel.",
    "At each place push by hand with about 50 N (11 lbf), let go, read; pull as much, let go, read.",
    "Then wind the slide past the place and feel.",
  ]
  reading "given_way" {
    each "place" { of = ["one_end", "middle", "other_end"] }
    each "hand" { of = ["pushed", "pulled"] }
    ask      = "${each.place == "one_end" ? "One end" : each.place == "middle" ? "Middle" : "Other end"}, slide ${each.hand}: needle"
    unit     = "um"
    with     = instrument.lever
    positive = "slide towards the indicator"
    range    = [um(-500), um(500)]
  }
  reading "feel" {
    each "place" { of = ["one_end", "middle", "other_end"] }
    ask    = "${each.place == "one_end" ? "One end" : each.place == "middle" ? "Middle" : "Other end"}: how does it run?"
    choose = ["free", "stiff"]
  }

  result "play" {
    title    = "Slide gives by"
    value    = { for p, r in reading.given_way : p => abs(r.pushed - r.pulled) }
    unit     = "um"
    positive = "never below nothing"
  }
  result "worst" {
    title    = "Slide gives most by"
    value    = greatest(result.play)
    unit     = "um"
    positive = "never below nothing"
  }
  result "stiff" {
    title    = "Places where the slide runs stiff"
    value    = sum([for p, f in reading.feel : f == "stiff" ? 1 : 0])
    positive = "never below nothing"
  }
  result "worn_middle" {
    title    = "Slide gives more in the middle than at the tighter end"
    value    = result.play.middle - least([result.play.one_end, result.play.other_end])
    unit     = "um"
    positive = "more in the middle"
  }
  gate "runs_free" {
    title     = "The slide runs free over its travel"
    of        = result.stiff
    at_most   = 0
    source    = "common practice"
    if_failed = [correction.scrape_ends, correction.ease, concession]
  }
  gate "gives_not" {
    title     = "The slide does not give by hand"
    of        = result.worst
    at_most   = table.lathe.gib_play
    if_failed = [correction.tighten, concession]
    upstream  = [gate.runs_free, accepted["saddle-fit"]]
  }
}

step "screw" {
  title   = "Lost motion of the screw"
  spindle = "stopped"
  do = [
    "Dial on the saddle, along the slide's travel. At each place come to the same graduation twice:",
    "first winding forward, without turning back; then from beyond, winding back.",
    "Last, pull and push the handle: how far does the screw move in its bearing? Twice.",
  ]
  reading "at_mark" {
    each "place" { of = ["one_end", "middle", "other_end"] }
    each "come" { of = ["forward", "back"] }
    ask      = "${each.place == "one_end" ? "One end" : each.place == "middle" ? "Middle" : "Other end"}, come to by winding ${each.come}"
    unit     = "mm"
    with     = instrument.dial
    positive = "slide further forward"
    range    = [mm(-5), mm(5)]
  }
  reading "collar" {
    ask    = "Handle: screw moves in its bearing by"
    unit   = "mm"
    repeat = 2
    with   = instrument.dial
    range  = [mm(0), mm(2)]
  }

  result "lost" {
    title    = "Lost motion"
    value    = { for p, r in reading.at_mark : p => backlash(r.forward, r.back) }
    unit     = "mm"
    positive = "never below nothing"
  }
  result "most" {
    title    = "Lost motion at the worst place"
    value    = greatest(result.lost)
    unit     = "mm"
    positive = "never below nothing"
  }
  gate "follows" {
    title     = "The slide follows its handle"
    of        = result.most
    at_most   = given.allowed
    source    = "what the person who uses the lathe allows"
    if_failed = [correction.take_up_bearing, correction.take_up_nut, concession]
  }
}

correction "scrape_ends" {
  title = "Ends tight, middle loose: scrape the ends"
  when  = reading.feel.middle == "free" && result.worn_middle > um(10)
  do = [
    "The slide's ways are worn in the middle. Slide off; scrape the ends of the ways to the middle, by scrape-surface.",
    "Then set the gib anew.",
  ]
  spindle  = "stopped"
  caution  = [caution.isolate, caution.lifting, caution.scraping, caution.blue]
  disturbs = [gate.gives_not, accepted["cross-ways-square"], accepted["cross-slide-square"]]
  attempts = 3
}

correction "ease" {
  title = "Ease the gib"
  do = [
    "Tapered gib: an eighth of a turn out. Straight gib: each screw a little, from the middle outwards.",
    "Lock the nuts, then feel again.",
  ]
  spindle  = "stopped"
  disturbs = [gate.gives_not, accepted["cross-ways-square"], accepted["cross-slide-square"]]
  attempts = 8
}

correction "tighten" {
  title = "Take the gib up"
  do = [
    "Tapered gib: an eighth of a turn in. Straight gib: each screw a little, from the middle outwards.",
    "Lock the nuts, wind over the whole travel, then push again.",
  ]
  spindle  = "stopped"
  disturbs = [gate.runs_free, accepted["cross-ways-square"], accepted["cross-slide-square"]]
  attempts = 8
}

correction "take_up_bearing" {
  title = "Take up the screw's bearing"
  when  = mean(reading.collar) > result.most / 2
  do = [
    "Nut or shim of the handle's thrust collar: until the handle just turns without play.",
    "Turn the screw over the whole travel: it must not bind.",
  ]
  spindle  = "stopped"
  attempts = 4
}

# Taken up for the worn middle, the nut binds at the ends of the screw.
correction "take_up_nut" {
  title = "Take up the nut"
  when  = spread(result.lost) <= given.allowed
  do = [
    "Split nut or wedge: a little at a time. Try the ends of the screw, where it is not worn, for binding.",
    "No way to set it: a new nut, made to the screw.",
  ]
  spindle  = "stopped"
  attempts = 6
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# The gib leaves its clearance in all places, and the wear of the ways on top in
# the middle. An eighth of a turn is 6 µm; below 2 µm the slide is stiff.
rehearsal "a slide in order" {
  grade = "normal"
  seeds = 20
  hidden {
    clear  = um(4)
    worn   = um(0)
    nut    = mm(0.06)
    collar = mm(0.01)
    screw  = mm(0) # wear of the screw, in the middle
  }
  noise {
    given_way = um(0.3)
    at_mark   = um(2)
    collar    = um(2)
  }
  answer {
    slide     = "cross slide"
    allowed   = mm(0.15)
    given_way = each.hand == "pushed" ? hidden.clear + (each.place == "middle" ? hidden.worn : um(0)) : um(0)
    feel      = hidden.clear + (each.place == "middle" ? hidden.worn : um(0)) < um(2) ? "stiff" : "free"
    at_mark   = each.come == "forward" ? mm(1) : mm(1) - hidden.nut - hidden.collar - (each.place == "middle" ? hidden.screw : mm(0))
    collar    = hidden.collar
  }
  reacts "tighten" { clear = hidden.clear > um(12) ? hidden.clear - um(6) : um(4) }
  reacts "ease" { clear = hidden.clear + um(4) }
  reacts "scrape_ends" {
    worn  = um(0)
    clear = um(8)
  }
  reacts "take_up_bearing" { collar = mm(0.01) }
  reacts "take_up_nut" { nut = hidden.nut > mm(0.14) ? hidden.nut - mm(0.1) : mm(0.04) }
  ends {
    outcome = "accepted"
    rounds  = { tighten = 0, ease = 0, scrape_ends = 0, take_up_nut = 0, take_up_bearing = 0 }
  }
}

rehearsal "a loose gib and a loose nut" {
  like  = "a slide in order"
  seeds = 10
  hidden {
    clear = um(28)
    nut   = mm(0.4)
  }
  ends {
    outcome = "accepted"
    rounds  = { tighten = at_most(5), take_up_nut = at_most(4) }
  }
}

rehearsal "the play is in the bearing, not in the nut" {
  like  = "a slide in order"
  seeds = 10
  hidden { collar = mm(0.3) }
  answer { slide = "top slide" }
  ends {
    outcome = "accepted"
    rounds  = { take_up_bearing = 1, take_up_nut = 0 }
  }
}

rehearsal "a gib set too tight" {
  like  = "a slide in order"
  seeds = 10
  hidden { clear = um(0) }
  ends {
    outcome = "accepted"
    rounds  = { ease = 1, tighten = 0 }
  }
}

# Tightened for the middle, it would bind at the ends: scraped instead.
rehearsal "worn in the middle" {
  like  = "a slide in order"
  seeds = 10
  hidden {
    clear = um(0)
    worn  = um(30)
  }
  ends {
    outcome = "accepted"
    rounds  = { scrape_ends = 1 }
  }
}

rehearsal "close to what may be lost, and to what may give" {
  like  = "a slide in order"
  seeds = 20
  hidden {
    clear = um(9.6)
    nut   = mm(0.136)
  }
  ends { outcome = "accepted" }
}

# A turn of the pointer is 1 mm: the bearing would be blamed for the nut.
rehearsal "misread by a turn of the pointer, found by the second look" {
  like  = "a slide in order"
  seeds = 10
  hidden { nut = mm(0.4) }
  mistake "turn" { of = reading.collar }
  ends {
    outcome = "accepted"
    rounds  = { take_up_bearing = 0, take_up_nut = at_most(4) }
    said    = { collar = ["turn"] }
  }
}

# No nut mends a worn screw: it is left, and conceded until there is a new one.
rehearsal "a screw worn in the middle" {
  like = "a slide in order"
  hidden { screw = mm(0.35) }
  ends {
    outcome = "conceded"
    rounds  = { take_up_nut = 0 }
  }
}

rehearsal "a gib that neither holds nor lets go" {
  like = "a slide in order"
  hidden { clear = um(30) }
  answer { feel = "stiff" }
  reacts "tighten" {}
  reacts "ease" {}
  ends { outcome = "conceded" }
}
