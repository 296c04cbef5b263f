# Rehearsals: what they answer, how they react, how they end.
procedure "rehearsals" {
  title    = "Rehearsals that prove nothing"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of rehearsals."
}

given "length" {
  ask   = "Length"
  unit  = "mm"
  range = [mm(100), mm(400)]
}

step "read" {
  title   = "Read"
  caution = [caution.rotating]
  wait "cool" { at_least = minutes(5) }
  confirm "clean" { ask = "Is it clean?" }
  reading "top" {
    ask   = "Height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
  reading "end" {
    ask    = "Which end?"
    choose = ["large", "small"]
  }
  gate "flat" {
    title     = "Flat, over ${given.length}"
    of        = reading.top
    at_most   = table.limits.bow
    if_failed = [correction.scrape, correction.wipe, reject]
  }
  gate "large_end" {
    title     = "The large end marks"
    holds     = reading.end == "large"
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "wipe" { title = "Wipe" }
correction "scrape" {
  title    = "Scrape"
  amount   = reading.top
  unit     = "um"
  positive = "scrape off"
}

rehearsal "wrong answers" {
  grade = "fien" ### "Unknown name"
  seeds = 0      ### "Out of bounds"
  hidden {
    Bow   = um(3) ### "Name has a form that cannot be used"
    bow   = um(30)
    twice = hidden.bwo * 2 ### "Unknown name"
  }
  spread {
    bow   = deg(1) ### "Wrong dimension for its place"
    twice = um(1)
    bwo   = um(1) ### "Unknown name"
  }
  noise {
    top    = deg(1) ### "Wrong dimension for its place"
    end    = um(1)  ### "These cannot stand together"
    bottom = um(1)  ### "Unknown name"
  }
  answer {
    length = deg(1) ### "Wrong dimension for its place"
    clean  = "yes" ### "Written in another form than wanted"
    top    = hidden.bow + each.take ### "Unknown name"
    end    = "medium" ### "Not one of the words"
    cool   = minutes(3) ### "These cannot stand together"
    flat   = true ### "Unknown name"
  }
  reacts "scrap" { bow = um(0) } ### "Unknown name"
  reacts "scrape" {
    bow   = deg(3) ### "Wrong dimension for its place"
    bwo   = um(3) ### "Unknown name"
    moved = moved ### "Name cannot be used here"
  }
  reacts "scrape" { bow = um(1) } ### "Name is taken"
  reacts "wipe" { moved = um(3) } ### "Needs something that is not there"
  mistake "wrongway" { of = correction.scrape } ### "Not one of the words"
  mistake "half" { of = correction.wipe } ### "Needs something that is not there"
  mistake "undone" { of = reading.top } ### "Not one of the words"
  mistake "swapped" { of = reading.top } ### "Needs something that is not there"
  mistake "turn" { of = reading.end } ### "Needs something that is not there"
  mistake "turn" { of = reading.topp } ### "Unknown name"
  mistake "swapped" { nth = 0 } ### "Something is missing" "Out of bounds"
  ends {
    outcome = "passed" ### "Not one of the words"
    rounds  = { scrape = two, scrap = 1 } ### "Written in another form than wanted" "Unknown name"
    said    = { scrape = ["wrongway"], wipe = "part", top = ["turned"] } ### "Not one of the words" "Written in another form than wanted" "Not one of the words"
  }
}

rehearsal "silent" { ### "A block is missing"
  answer { ### "Rehearsal does not answer everything"
    length = mm(200)
  }
}

rehearsal "silent" { ### "Name is taken" "A block is missing"
  ends { outcome = "accepted" }
}
