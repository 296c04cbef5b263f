# Names: unknown, taken, below their use, of the wrong kind.
procedure "names" {
  title    = "Names that are wrong"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of names."
}

given "length" {
  ask   = "Length"
  unit  = "mm"
  range = [mm(1), given.width] ### "Name cannot be used here"
}
given "width" {
  ask   = "Width"
  unit  = "mm"
  range = [mm(1), reading.top] ### "Name cannot be used here"
}
given "length" { ### "Name is taken"
  ask   = "Length again"
  unit  = "mm"
  range = [mm(1), mm(2)]
}
given "amount" { ### "Word of the language"
  ask   = "How much?"
  unit  = "mm"
  range = [mm(1), mm(2)]
}

step "first" {
  title      = "First"
  needs      = [step.second] ### "Used above its place"
  caution    = [caution.rotatin] ### "Unknown name"
  hold_point = gate.bow ### "Names the wrong thing"

  reading "top" {
    ask   = "Height of ${given.lenght}" ### "Unknown name"
    unit  = "um"
    with  = instrument.micrometr ### "Unknown name"
    range = [um(-10), um(10)]
  }
  reading "low" {
    ask   = "Height"
    unit  = "um"
    with  = caution.rotating ### "Names the wrong thing"
    range = [um(-10), um(10)]
  }
  result "bow" {
    title    = "Bow"
    value    = reading.top-reading.low ### "Hyphen is part of the name"
    unit     = "um"
    positive = "high"
  }
  result "early" {
    title    = "Made from what stands below"
    value    = result.late ### "Name cannot be used here"
    unit     = "um"
    positive = "high"
  }
  result "late" {
    title    = "Made from what is no value"
    value    = step.first ### "Not a value"
    unit     = "um"
    positive = "high"
  }
  result "outside" {
    title    = "Made from the machine's entry"
    value    = machine.swing ### "Name cannot be used here"
    unit     = "mm"
    positive = "large"
  }
  result "other" {
    title    = "Made from another run"
    value    = accepted["two-collar"].result.raw ### "Name cannot be used here"
    unit     = "mm"
    positive = "large"
  }
  result "moves" {
    title    = "Made from an amount"
    value    = amount * 2 ### "Name cannot be used here"
    unit     = "mm"
    positive = "large"
  }
  result "round" {
    title    = "Made from a key"
    value    = each.seat == "a" ? um(1) : um(2) ### "Unknown name"
    unit     = "mm"
    positive = "large"
  }
  result "length_less" {
    title    = "A word without its place"
    value    = length ### "Unknown name"
    unit     = "mm"
    positive = "large"
  }
  result "limit" {
    title    = "A row that is not there"
    value    = table.limits.bwo ### "Unknown name"
    unit     = "mm"
    positive = "large"
  }
  result "worked" {
    title    = "A function that is not there"
    value    = avarage(reading.top) ### "Unknown function"
    unit     = "um"
    positive = "high"
  }
  gate "bow" { ### "Name is taken"
    title     = "Flat"
    of        = result.bow
    at_most   = um(3)
    source    = "shop rule"
    if_failed = [correction.scrap, reject] ### "Unknown name"
    upstream  = [gate.flatt, accepted["names"]] ### "Unknown name" "Names the wrong thing"
  }
  gate "twice" {
    title     = "Names things twice"
    of        = reading.top
    at_most   = um(3)
    source    = "shop rule"
    if_failed = [correction.scrape, correction.scrape, reject] ### "Name is taken"
  }
}

step "second" {
  title = "Second"
  do    = ["Look at the ${reading.end} end."] ### "Unknown name"
}

correction "scrape" {
  title    = "Scrape"
  amount   = result.after ### "Name cannot be used here"
  unit     = "um"
  positive = "scrape off"
}

step "third" {
  title = "Third"
  result "after" {
    title    = "Stands below the gate"
    value    = reading.top
    unit     = "um"
    positive = "high"
  }
}

signoff "inspector" {
  title      = "Accepted by"
  other_than = signoff.fitter ### "Unknown name"
}
