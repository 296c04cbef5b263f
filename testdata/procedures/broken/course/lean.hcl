# A procedure without a mistake, for the plan beside it.
procedure "lean" {
  title    = "Lean of a post"
  machine  = "bench drill"
  revision = "1"
  purpose  = "Set a post upright."
}

instrument "level" {
  kind          = "precision level"
  resolution    = um(5) / m(1)
  error         = um(5) / m(1)
  repeatability = um(2) / m(1)
}

table "post" {
  title  = "Posts"
  grades = ["normal", "fine"]
  row "lean" {
    title  = "Lean"
    values = { normal = um(80) / m(1), fine = um(40) / m(1) }
    source = "shop rule, estimate"
  }
}

step "look" {
  title = "Read the post"
  reading "lean" {
    ask      = "Post: lean"
    unit     = "um/m"
    range    = [um(-2000) / m(1), um(2000) / m(1)]
    positive = "to the right"
    with     = instrument.level
  }
  result "out" {
    title    = "Lean of the post"
    value    = reading.lean
    unit     = "um/m"
    positive = "to the right"
  }
  gate "upright" {
    title     = "Post upright"
    of        = result.out
    within    = plus_minus(table.post.lean)
    if_failed = [correction.wedge, correction.clean, reject]
  }
}

correction "wedge" {
  title    = "Drive the wedge"
  amount   = result.out
  unit     = "um/m"
  positive = "at the right"
  negative = "at the left"
  do       = ["Drive it in, read again."]
  should_change {
    result = result.out
    by     = -amount
  }
}

correction "clean" {
  title = "Clean its foot"
  do    = ["Wipe it, read again."]
}

rehearsal "a post" {
  hidden {
    lean = um(10) / m(1)
    dirt = um(0) / m(1)
    calm = um(0) / m(1)
  }
  answer { lean = hidden.lean + hidden.dirt + hidden.calm }
  reacts "wedge" { lean = hidden.lean - amount }
  reacts "clean" { dirt = um(0) / m(1) }
  ends { outcome = "accepted" }
}
