# Ways on, roles, limits: semantics rules 18, 30, 33 and the gates of the
# checker's item 3.
procedure "gates" {
  title    = "Gates without an end"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of gates."
}

given "length" {
  ask   = "Length"
  unit  = "mm"
  range = [mm(100), mm(400)]
}
given "rest" {
  ask   = "What is left of it"
  unit  = "mm"
  range = [mm(10), given.length - mm(95)] ### "Range stands the wrong way round"
}

step "read" {
  title = "Read"
  each "seat" { of = ["marked", "turned"] }
  reading "top" {
    ask   = "Height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
  gate "each_seat" {
    title     = "Judged inside a repetition"
    of        = reading.top
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [correction.wipe, reject] ### "Correction inside a repetition"
  }
}

step "judge" {
  title = "Judge"
  result "bow" {
    title    = "Bow"
    value    = mean(reading.top)
    unit     = "um"
    positive = "high"
  }
  gate "no_end" {
    title     = "Without an end"
    of        = result.bow
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [correction.wipe] ### "Gate has no way on"
  }
  gate "noted_and_mended" {
    title     = "Kept as found, and mended all the same"
    of        = result.bow
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [correction.wipe, noted] ### "Gate has no way on"
  }
  gate "no_ways" { ### "Gate has no way on"
    title     = "Without ways"
    of        = result.bow
    at_most   = um(50)
    source    = "shop rule"
    if_failed = []
  }
  gate "two_ends" {
    title     = "With two ends"
    of        = result.bow
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [concession, reject] ### "Gate has no way on" "Nobody grants concessions"
  }
  gate "upside_down" {
    title     = "Limits the wrong way round"
    of        = result.bow
    within    = between(um(20), um(0)) ### "Limits stand the wrong way round"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "sometimes" {
    title     = "Limits the wrong way round for some lengths"
    of        = result.bow
    within    = between(um(60), um(40) * given.length / mm(200)) ### "Limits stand the wrong way round"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "undefined" {
    title     = "A limit that cannot be worked out for some lengths"
    of        = result.bow
    at_most   = um(5000) * mm(1) / (given.length - mm(100)) ### "Limit cannot be worked out"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "decided" {
    title     = "Decided by the file alone"
    holds     = 1 < 2 ### "Condition never decides"
    source    = "shop rule"
    if_failed = [reject]
  }
  gate "givens_only" {
    title     = "Nothing is read again"
    of        = given.rest
    at_most   = mm(400)
    source    = "shop rule"
    if_failed = [correction.wipe, reject] ### "Correction does not lead back"
  }
}

correction "wipe" {
  title = "Wipe"
  do    = ["Wipe it."]
}
