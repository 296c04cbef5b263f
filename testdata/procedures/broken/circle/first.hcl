# Two procedures that each take a value from an accepted run of the other.
procedure "first" {
  title    = "Waits for the second"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of procedures that wait for one another."
}
given "twist" {
  title = "Twist"
  unit  = "um/m"
  from  = accepted["second"].result.wind ### "Goes round in a circle"
}
given "length" {
  title = "Length"
  unit  = "mm"
  from  = accepted["second"].result.wind ### "Wrong dimension for its place"
}
given "other" {
  title = "Other"
  unit  = "mm"
  from  = accepted["second"].result.twist ### "Unknown name"
}
step "judge" {
  title = "Judge"
  result "twice" {
    title    = "Twice"
    value    = given.twist * 2 + given.other / given.length
    unit     = "um/m"
    positive = "front low"
  }
  gate "small" {
    title     = "Small"
    of        = result.twice
    at_most   = um(20) / m(1)
    source    = "shop rule"
    if_failed = [reject]
  }
}
