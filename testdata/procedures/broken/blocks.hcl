# Attributes and blocks: unknown, missing, twice, in the wrong form.
procedure "blocks" {
  title    = "Blocks that are wrong"
  machine  = "any"
  revison  = "1" ### "Unknown attribute"
  purpose  = "Show what is said of blocks."
  decision = "sure" ### "Not one of the words"
}

givens "spare" { ### "Unknown block"
  ask = "How much?"
}

given "width" {
  ask   = "Width"
  unit  = "mm"
  unit  = "um" ### "Attribute stands twice"
  range = [mm(1), mm(9)]
}

given { ### "Wrong number of names"
  ask    = "Which?"
  choose = ["a", "b"]
}

given "Depth" { ### "Name has a form that cannot be used"
  ask   = "Depth"
  unit  = "mm"
  range = [mm(1)] ### "Written in another form than wanted"
}

given "stock" {
  ask   = "Stock"
  unit  = "mm"
  count = false ### "These cannot stand together"
}

given "far" {
  ask   = "How far?"
  unit  = "furlongs" ### "Unknown unit"
  range = [mm(1), mm(2)]
}

given "none" { ### "Something is missing"
  unit  = "mm"
  range = [mm(1), mm(2)]
}

given "closed" { ### "Something is missing"
  from  = machine.swing
  unit  = "mm"
  range = [mm(1), mm(2)]
}

instrument "dial" { ### "Definition is not used"
  kind              = "dial"
  resolution        = um(0) ### "Out of bounds"
  error             = um(-1) ### "Out of bounds"
  repeatability     = deg(1) ### "Wrong dimension for its place"
  repeatability_dof = 0 ### "Out of bounds"
}

step "look" {
  title   = ["Look"] ### "Written in another form than wanted"
  spindle = "running" ### "Not one of the words"
  lasting = "yes" ### "Written in another form than wanted"
  needs   = step.look ### "Written in another form than wanted"
  tools   = "none" ### "Written in another form than wanted"
  caution = [caution.rotating, "isolate"] ### "Written in another form than wanted"
  good_for = minutes(0) ### "Out of bounds"

  wait "cool" { ### "Something is missing"
    why = "it is warm"
  }
  wait "even" {
    until = minutes(3) ### "Unknown block"
  }
  wait "same" {
    at_least = mm(3) ### "Wrong dimension for its place"
    until {
      ask   = "Diameter"
      unit  = "mm"
      every = minutes(5)
      agree = um(1)
      takes = 1 ### "Out of bounds"
    }
    until { ### "Block stands twice"
      ask   = "Diameter"
      unit  = "mm"
      every = minutes(5)
      agree = um(1)
      takes = 3
    }
  }
  confirm "clean" {} ### "Something is missing"

  reading "mark" {
    ask    = "Which end marks?"
    choose = ["large", "small", "large"] ### "Name is taken"
    repeat = 3 ### "These cannot stand together"
    each = ["a", "b"] ### "Unknown block"
  }
  reading "picture" {
    ask      = ""  ### "Written in another form than wanted"
    evidence = true
  }
  gate "marked" {
    title     = "It marks at the large end"
    holds     = reading.mark == "large"
    source    = "shop rule"
    at_most   = um(3) ### "These cannot stand together"
    if_failed = reject ### "Written in another form than wanted"
  }
}

signoff "fitter" {
  title = "Carried out by"
  other_than = signoff.fitter ### "Names the wrong thing"
}
