# The wear of the carriage ways, line by line: an indicator rides on a sled on
# the tailstock ways, which hardly wear, and reads the carriage ways. Each line
# starts under the chuck and ends at the far right, where no carriage runs: the
# line through its ends is the bed as it was made.

procedure "lathe-bed-wear" {
  title    = "Wear of the bed, and what to do about it"
  machine  = "centre lathe"
  revision = "1"
  purpose  = "Map how deep the carriage ways are worn, and decide in writing: leave, scrape, or machine first, and from which datum. Nothing is cut here."
  decision = "guarded"
  duration = hours(2)
  sources = [
    "least-worn ways as datum; machine first above 0.13 mm (0.005 in): advice of rebuilders",
    "to be left up to 0.02 mm: estimate",
  ]
}

given "length" {
  ask   = "Bed: first to last place, along"
  unit  = "mm"
  range = [mm(250), m(3)]
}
given "places" {
  ask   = "Bed: how many places, 50 to 100 mm apart"
  count = true
  range = [5, 30]
}
given "front_way" {
  ask    = "Front carriage way: a vee, or flat?"
  choose = ["vee", "flat"]
}

step "feel" {
  title   = "Feel the carriage along the bed"
  spindle = "stopped"
  lasting = true
  caution = [caution.isolate]
  do = [
    "Set the keep plates until the carriage is just free near the chuck.",
    "Wind it to the right. Where the bed is worn near the chuck, it gets stiff or binds there.",
    "Slacken the keep plates again.",
  ]
  reading "to_the_right" {
    ask    = "Carriage wound to the right: what happens?"
    choose = ["stays free", "gets stiffer", "binds"]
  }
}

step "ready" {
  title   = "Clean the ways and set up the sled"
  spindle = "stopped"
  caution = [caution.isolate]
  tools = [
    "sled for the tailstock ways, on three points, with a short stiff arm",
    "lever indicator, 0.002 mm (0.0001 in)",
    "rule or tape along the bed",
  ]
  do = [
    "Carriage off, or wound out of the way of all places.",
    "Wash the ways, wipe them dry, stone burrs lightly. Do not scrape.",
    "First place: under the chuck, where the carriage never ran. Last place: the far right end.",
    "The sled sits on the strips of the tailstock ways that the tailstock does not rub.",
  ]
  confirm "sled" { ask = "Sled: does it sit without rocking?" }
}

step "map" {
  title   = "Read the ways from the sled, ${each.line}"
  spindle = "stopped"
  each "line" { of = ["front", "inner", "rear"] }
  do = [
    "Needle to about zero at the first place. Tip square to the surface; on a flank square to the flank.",
    "Slide, stop, take the hand off, read. The last look is at the first place again.",
  ]

  # A sled that rides on worn ways shows too little wear: see "feel" above.
  reading "way" {
    ask = (each.line == "rear" ? "Rear way, at ${each.station}"
      : given.front_way == "flat" ? "Front way, at ${each.station}"
      : each.line == "front" ? "Front vee, outer flank, at ${each.station}"
      : "Front vee, inner flank, at ${each.station}")
    when     = given.front_way == "vee" || each.line != "inner"
    unit     = "um"
    along    = stations(mm(0), given.length, given.places)
    closure  = um(4)
    with     = instrument.lever
    positive = "way high"
    nudge    = "up"
    push     = "Slip a 0.05 mm (0.002 in) feeler under the tip"
    range    = [um(-400), um(400)]
  }

  result "worn" {
    title    = "Way: worn at each place by"
    value    = { for z, h in reading.way : z => first(reading.way) + rise(reading.way) * (z / given.length) - h }
    unit     = "um"
    positive = "low"
  }
  result "deepest" {
    title    = "Way: worn at the deepest place by"
    value    = greatest(result.worn)
    unit     = "um"
    positive = "low"
  }
}

step "judge" {
  title = "All ways together"

  result "loss" {
    title = "Deepest wear of all ways"
    value = (given.front_way == "vee"
      ? greatest([result.deepest.front, result.deepest.inner, result.deepest.rear])
      : greatest([result.deepest.front, result.deepest.rear]))
    unit     = "um"
    positive = "low"
  }
  result "where" {
    title    = "Front way: the deepest place, from the first"
    value    = where_greatest(result.worn.front)
    unit     = "mm"
    positive = "towards the tailstock"
  }
  result "advice" {
    title    = "The table of decisions says"
    value    = result.loss <= table.lathe.wear_leave ? "leave" : result.loss <= table.lathe.wear_scrape ? "scrape" : "machine first"
    positive = "a decision"
  }

  # A carriage that binds feels wear; a map that shows none was read from worn ways.
  gate "signs_agree" {
    title     = "The map agrees with how the carriage runs"
    holds     = !(reading.to_the_right == "binds" && result.loss < um(20)) && !(reading.to_the_right == "stays free" && result.loss > um(80))
    decision  = "simple"
    source    = "shop rule, estimate"
    if_failed = [correction.look_again, concession]
    upstream  = [accepted["lathe-level-twist"]]
  }
}

step "decide" {
  title   = "Decide what is done, and write it down"
  lasting = true
  do = [
    "Found: worn by ${result.loss}; the front way is deepest ${result.where} from the first place.",
    "The table says: ${result.advice}. Up to 0.02 mm (0.0008 in) leave, up to 0.13 mm (0.005 in) scrape.",
    "The datum is the least-worn surface. It must still be there when the ways are cut.",
  ]
  reading "decision" {
    ask    = "Bed: what is decided?"
    choose = ["leave", "scrape", "machine first"]
  }
  reading "head_ways" {
    ask    = "Headstock: which ways does it stand on?"
    choose = ["carriage ways", "tailstock ways", "its own seat"]
  }
  reading "datum" {
    ask    = "Datum: which surface is the least worn?"
    choose = ["tailstock ways", "under the headstock", "far right end"]
  }
  gate "as_advised" {
    title     = "The decision is that of the table"
    holds     = reading.decision == result.advice
    decision  = "simple"
    source    = "leave up to 0.02 mm: estimate; machine first above 0.13 mm: advice of rebuilders"
    if_failed = [concession]
  }
  gate "datum_lasts" {
    title     = "The datum is there, and is not cut away"
    holds     = reading.datum != "under the headstock" || (reading.head_ways == "carriage ways" && reading.decision != "machine first")
    source    = "common practice"
    if_failed = [concession]
  }
}

correction "look_again" {
  title = "Seat the sled on unworn strips"
  do = [
    "Clean the ways again. Blue the sled's feet and see where they bear.",
    "Move the feet to strips that are not rubbed, or take the bed's own right-hand end as the datum.",
  ]
  spindle  = "stopped"
  caution  = [caution.isolate, caution.blue]
  attempts = 2
}

signoff "fitter" { title = "Carried out by" }

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter
  concedes   = true
}

# The wear runs from nothing at the first place down to the deepest 300 mm on,
# and back to nothing at the far end: 0.090 mm at the front is "scrape".
rehearsal "a bed that is hardly worn" {
  seeds = 20
  hidden {
    front = um(8)
    seen  = 1 # of the wear, what a sled sees that does not ride on wear itself
  }
  noise { way = um(0.5) }
  answer {
    length       = mm(900)
    places       = 10
    front_way    = "vee"
    to_the_right = hidden.front > um(60) ? "binds" : "stays free"
    way = (um(14) * each.station / mm(900) - hidden.seen * hidden.front * (each.line == "front" ? 1 : each.line == "inner" ? 0.7 : 0.3)
      * (each.station <= mm(300) ? each.station / mm(300) : (mm(900) - each.station) / mm(600)))
    decision  = hidden.front < um(20) ? "leave" : hidden.front < um(130) ? "scrape" : "machine first"
    head_ways = "tailstock ways"
    datum     = "tailstock ways"
  }
  reacts "look_again" { seen = 1 }
  ends {
    outcome = "accepted"
    rounds  = { look_again = 0 }
  }
}

rehearsal "worn 0.09 mm near the chuck: to be scraped" {
  like  = "a bed that is hardly worn"
  seeds = 20
  hidden { front = um(90) }
  ends {
    outcome = "accepted"
    rounds  = { look_again = 0 }
  }
}

rehearsal "flat ways worn 0.17 mm: machine first" {
  like  = "a bed that is hardly worn"
  seeds = 5
  hidden { front = um(170) }
  answer {
    front_way = "flat"
    head_ways = "carriage ways"
    datum     = "far right end"
  }
  ends { outcome = "accepted" }
}

rehearsal "the sled rode on worn ways, and the carriage told" {
  like  = "a bed that is hardly worn"
  seeds = 20
  hidden {
    front = um(90)
    seen  = 0.1
  }
  ends {
    outcome = "accepted"
    rounds  = { look_again = 1 }
  }
}

rehearsal "the needle on the sled reads the other way round" {
  like  = "a bed that is hardly worn"
  seeds = 10
  hidden { front = um(90) }
  mistake "reversed" { of = reading.way }
  ends { outcome = "accepted" }
}

# A turn of the pointer is 0.2 mm. Going back to the first place shows it.
rehearsal "misread by a turn at the first place, found on going back to it" {
  like  = "a bed that is hardly worn"
  seeds = 10
  mistake "turn" { of = reading.way }
  ends {
    outcome = "accepted"
    rounds  = { look_again = 0 }
    said    = { way = ["void"] }
  }
}

# Scraping 0.17 mm is hard work, and the datum named would be machined away.
rehearsal "decided against the table" {
  like = "a bed that is hardly worn"
  hidden { front = um(170) }
  answer {
    decision = "scrape"
    datum    = "under the headstock"
  }
  ends { outcome = "conceded" }
}

rehearsal "a map that never agrees with the carriage" {
  like = "a bed that is hardly worn"
  hidden {
    front = um(90)
    seen  = 0.1
  }
  answer { decision = "leave" }
  reacts "look_again" {}
  ends {
    outcome = "conceded"
    rounds  = { look_again = 2 }
  }
}
