# What is wrong inside formulas.
procedure "formulas" {
  title    = "Formulas that cannot be worked out"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of formulas."
}

given "span" {
  ask   = "Span"
  unit  = "mm"
  range = [mm(50), mm(1e400)] ### "Number too large"
}
given "twist" {
  title = "Twist"
  unit  = "um/m"
  from  = accepted["no-such-procedure"].result.twist.marked ### "Kind is not known"
}

step "read" {
  title = "Read"
  do    = ["Wipe it.\nRead it."] ### "Text is not plain"
  reading "top" {
    ask    = "Top: height"
    unit   = "um"
    with   = instrument.micrometer
    repeat = 2
    range  = [um(-100), um(100)]
  }
  reading "seat" {
    ask   = "Seat ${each.seat}: height"
    unit  = "um"
    with  = instrument.micrometer
    range = [um(-100), um(100)]
    each "seat" { of = ["near", "far"] }
  }
  result "count_of_arguments" {
    title    = "Too few"
    value    = set_over(reading.top) ### "Wrong number of arguments"
    unit     = "um"
    positive = "up"
  }
  result "argument" {
    title    = "An angle for a length"
    value    = bar_sag(mm(20), deg(5), mm(10)) ### "Wrong argument"
    unit     = "um"
    positive = "up"
  }
  result "operator" {
    title    = "Words times two"
    value    = "high" * 2 ### "Operator does not work on this"
    unit     = "um"
    positive = "up"
  }
  result "elements" {
    title    = "A length and an angle"
    value    = sum([um(1), deg(1)]) ### "Elements do not agree"
    unit     = "um"
    positive = "up"
  }
  result "keys" {
    title    = "Values in the place of keys"
    value    = spread({ for k, v in reading.seat : v => v }) ### "A for keeps its keys"
    unit     = "um"
    positive = "never below nothing"
  }
  result "twice" {
    title    = "One key twice"
    value    = spread({ near = um(1), near = um(2) }) ### "Key stands twice"
    unit     = "um"
    positive = "never below nothing"
  }
  result "variable" {
    title    = "A variable with a name that is taken"
    value    = mean([for given in reading.seat : given]) ### "Variable reuses a name"
    unit     = "um"
    positive = "up"
  }
  result "nothing_to_go_over" {
    title    = "One number has no elements"
    value    = mean([for x in um(1) : x]) ### "Nothing to go over"
    unit     = "um"
    positive = "up"
  }
  result "splat" {
    title    = "A splat"
    value    = mean(reading.seat[*].x) ### "Not used in procedures"
    unit     = "um"
    positive = "up"
  }
  result "never" {
    title    = "Divided by nothing"
    value    = um(1) / 0 ### "Never has a value"
    unit     = "um"
    positive = "up"
  }
}

signoff "fitter" { title = "Carried out by" }
