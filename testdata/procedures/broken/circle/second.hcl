# Two procedures that each take a value from an accepted run of the other.
procedure "second" {
  title    = "Waits for the first"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of procedures that wait for one another."
}
given "twist" {
  title = "Twist"
  unit  = "um/m"
  from  = accepted["first"].result.twice ### "Goes round in a circle"
}
step "judge" {
  title = "Judge"
  result "wind" {
    title    = "Twice"
    value    = given.twist
    unit     = "um/m"
    positive = "front low"
  }
  gate "small" {
    title     = "Small"
    of        = result.wind
    at_most   = um(20) / m(1)
    source    = "shop rule"
    if_failed = [reject]
  }
}
