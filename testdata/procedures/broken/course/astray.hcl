# Rehearsals of a plan: what they name, of which kind it is, what would be lost.
overhaul "astray" {
  title    = "A plan whose rehearsals go wrong"
  machine  = "bench drill"
  revision = "1"
}
task "post" { procedure = "lean" }

rehearsal "as it should be" {
  grade = "fine"
  hidden {
    post = um(300) / m(1)
    dust = um(3) / m(1)
  }
  procedure "lean" {
    like = "a post"
    hidden {
      lean = hidden.post
      calm = hidden.dust * 2
      dirt = hidden.dust * 3 # the plan says what clean does
    }
    reacts "wedge" { dust = hidden.dust + amount / 100 }
    reacts "clean" { dust = um(0) / m(1) }
  }
  ends {
    outcome = "accepted"
    runs    = { post = at_most(2) }
  }
}

rehearsal "as it should not be" {
  seeds = 0 ### "Out of bounds"
  grade = "finest" ### "Unknown name"
  like  = "as it should be" ### "Unknown attribute"
  hidden {
    post  = um(300) / m(1)
    spare = um(3) ### "State that no procedure meets"
  }
  procedure "leen" { like = "a post" } ### "Unknown name"
  procedure "lean" {
    like = "a pst" ### "Unknown name"
    answer { lean = um(3) / m(1) } ### "Unknown block"
  }
  procedure "lean" { ### "Name is taken"
    hidden {
      lean = hidden.post * 2 # the plan says what wedge does
      leen = hidden.post ### "Unknown name"
      calm = um(3) ### "Wrong dimension for its place"
      dirt = hidden.pst ### "Unknown name"
    }
    reacts "wegde" { post = um(3) / m(1) } ### "Unknown name"
    reacts "wedge" {
      post = mm(3) ### "Wrong dimension for its place"
      pots = um(3) / m(1) ### "Unknown name"
    }
    reacts "wedge" { post = um(0) / m(1) } ### "Name is taken"
    reacts "clean" { post = amount } ### "Name cannot be used here"
  }
  ends {
    outcome = "as_found" ### "Not one of the words"
    runs    = { post = few, pots = 1 } ### "Written in another form than wanted" "Unknown name"
    rounds  = { wedge = 1 } ### "Unknown attribute"
  }
}

rehearsal "as it should not be" { ### "Name is taken" "A block is missing"
  procedure "lean" {
    hidden { dirt = um(3) / m(1) } ### "These cannot stand together"
  }
}
