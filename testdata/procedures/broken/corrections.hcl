# Corrections: semantics rules 5 and 35, directions, what should change.
procedure "corrections" {
  title    = "Corrections that do not correct"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of corrections."
}

step "read" {
  title = "Read"
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
    title     = "Flat"
    of        = reading.top
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [correction.wipe, correction.scrape, correction.turn, correction.bend, correction.tap, correction.late, reject]
  }
  result "which" {
    title = "Which end"
    value = reading.end
  }
  gate "large_end" {
    title     = "It is the large end"
    holds     = result.which == "large"
    source    = "shop rule"
    if_failed = [reject]
  }
}

correction "wipe" {
  title    = "Wipe"
  positive = "up" ### "Needs something that is not there"
  ledger   = "top" ### "Needs something that is not there"
  moved { ### "Needs something that is not there"
    ask = "How far, plus is up?"
  }
  should_change { ### "Needs something that is not there"
    result = result.which
    by     = amount
  }
}

correction "scrape" { ### "Something is missing" "Something is missing"
  title  = "Scrape"
  amount = reading.top
}

correction "turn" {
  title    = "Turn"
  amount   = reading.top
  unit     = "deg" ### "Unit does not fit"
  positive = "up"
  attempts = 0 ### "Out of bounds"
}

correction "bend" {
  title    = "Bend"
  amount   = reading.end ### "Wrong kind for its place"
  unit     = "um"
  positive = "up"
  disturbs = [reading.top] ### "Names the wrong thing"
  moved {
    ask  = "How far, plus is up?"
    unit = "deg" ### "Unit does not fit"
    with = instrument.level
  }
  should_change {
    result = reading.top ### "Names the wrong thing"
    by     = moved ### "Name cannot be used here"
  }
}

correction "late" {
  title    = "Uses what stands below its gate"
  amount   = reading.top
  unit     = "um"
  positive = "up"
  should_change {
    result = result.which ### "Used above its place"
    by     = amount
  }
}

correction "tap" {
  title    = "Tap"
  amount   = reading.top * attempt ### "Name cannot be used here"
  unit     = "um"
  positive = "up"
  amout    = um(3) ### "Unknown attribute"
}
