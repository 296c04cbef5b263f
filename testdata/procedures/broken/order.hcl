# Keys may change their order with an outer key, not themselves; what is read
# must be used, and be reachable.
procedure "order" {
  title    = "What only the whole shows"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of a whole procedure."
}

given "spare" { ### "Given is not used"
  ask    = "Which?"
  choose = ["a", "b"]
}

step "read" {
  title = "Read"
  reading "top" {
    each "station" { of = ["near", "far"] }
    each "angle" { of = each.station == "near" ? ["0", "180"] : ["90", "0"] } ### "Keys change with an outer key"
    ask   = "Height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
  reading "low" { ### "Never used"
    when  = 1 > 2 ### "Never reached"
    ask   = "Height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
  result "mean_top" {
    title    = "Mean"
    value    = mean(reading.top.near)
    unit     = "um"
    positive = "high"
  }
  result "idle" { ### "Never used"
    title    = "Nothing uses it"
    value    = result.mean_top * 2
    unit     = "um"
    positive = "high"
  }
  gate "flat" {
    title     = "Flat"
    of        = result.mean_top
    at_most   = um(50)
    source    = "shop rule"
    if_failed = [correction.scrape, reject]
  }
}

step "empty" { ### "Never used"
  title = "Nothing to do"
}

correction "scrape" {
  title    = "Scrape"
  amount   = result.mean_top
  unit     = "um"
  positive = "scrape off"
  should_change {
    result = result.mean_top
    by     = um(-3) ### "Expected change is nothing"
  }
}

correction "never" { ### "Never used"
  title = "No gate names it"
}
