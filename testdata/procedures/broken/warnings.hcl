# What a careful author would look at again.
procedure "wrong-name" { ### "File has another name"
  title    = "Warnings"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is warned of."
}

given "length" { ### "No plausible range"
  ask  = "Length of the bar, from the one end of it to the other end" ### "Question is too long" "Quantity stands before the place"
  unit = "mm"
}
given "twist" {
  title = "Twist"
  unit  = "um/m"
  from  = accepted["no-such-procedure"].result.twist ### "Procedure is not at hand"
}

instrument "dial" {
  kind       = "dial"
  resolution = um(10)
}
instrument "spare" { ### "Definition is not used"
  kind       = "dial"
  resolution = um(10)
}

step "read" { ### "Hazard without a caution"
  title   = "Read"
  spindle = "turning"
  reading "top" { ### "Repeatability is not known well enough"
    ask   = "Height"
    unit  = "um"
    with  = instrument.dial
    range = [um(-100), um(100)]
  }
  reading "low" {
    ask   = "Height at the rear" ### "Quantity stands before the place"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
  }
  result "bow" { ### "Plus is not said in words"
    title = "Bow over ${given.length}, ${given.twist}"
    value = reading.top - reading.low
    unit  = "um"
  }
  gate "coarse" {
    title     = "Too fine for a dial"
    of        = result.bow
    at_most   = um(20) ### "Instrument is too coarse"
    source    = "shop rule"
    if_failed = [correction.move, correction.turn, reject]
  }
  gate "unlucky" {
    title     = "Alike, as a dial shows it"
    of        = abs(result.bow)
    at_most   = um(20) ### "A perfect machine passes too seldom"
    source    = "shop rule"
    if_failed = [correction.move, reject]
  }
  gate "hopeless" { ### "Limit without a source"
    title     = "Far too fine for a dial"
    of        = result.bow
    within    = plus_minus(um(3)) ### "Even a perfect machine cannot pass"
    if_failed = [correction.move, reject]
  }
}

correction "move" {
  title    = "Move"
  amount   = result.bow
  unit     = "um"
  positive = "plus" ### "Direction is not in words"
  negative = "the other one" ### "Direction is not in words"
  moved {
    ask  = "How far did it go?" ### "Direction is missing"
    with = instrument.dial
  }
}

correction "turn" {
  title    = "Turn"
  amount   = result.bow
  unit     = "um"
  positive = "with the end next to the chuck going up" ### "Direction stands late"
  negative = "down at the end next to the chuck"
  moved {
    ask  = "End next to the chuck, after locking: moved, plus up" ### "Question is too long"
    with = instrument.dial
  }
}
