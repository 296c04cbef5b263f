# Repetitions: semantics rules 8, 9, 17 and 19.
procedure "keys" {
  title    = "Keys that are not known"
  machine  = "any"
  revision = "1"
  purpose  = "Show what is said of keys."
}

given "screws" {
  ask   = "How many screws?"
  count = true
}
given "size" {
  each "screw" { of = numbered(given.screws) } ### "Keys are not known"
  ask   = "Screw ${each.screw}: size"
  unit  = "mm"
  range = [mm(1), mm(30)]
}

step "read" {
  title = "Read"
  each "seat" { of = ["marked", "turned"] }
  reading "top" {
    each "seat" { of = ["near", "far"] } ### "Name is taken"
    each "place" { of = ["Near End", "far"] } ### "Keys are not known"
    ask   = "Height"
    unit  = "um"
    range = [um(-100), um(100)]
  }
  reading "low" {
    each "station" { of = ["near", "far"] } ### "Name is taken"
    along = [mm(0), mm(100)]
    ask   = "At ${each.station}: height"
    unit  = "um"
    range = [um(-100), um(100)]
  }
  reading "from_reading" {
    each "x" { of = [for k, v in reading.low.near : k] } ### "Name cannot be used here"
    ask   = "Height"
    unit  = "um"
    range = [um(-100), um(100)]
  }
  reading "lengths" {
    each "x" { of = [mm(1), mm(2)] } ### "Keys are not known"
    ask   = "Height"
    unit  = "um"
    range = [um(-100), um(100)]
  }
  reading "once" {
    each "x" { of = "near" } ### "Keys are not known"
    ask   = "Height at take ${each.take}" ### "Unknown name"
    unit  = "um"
    range = [um(-100), um(100)]
  }
  reading "size_of" {
    ask   = "Height"
    unit  = "um"
    when  = given.size.near > mm(3) ### "No such key"
    range = [um(-100), um(100)]
  }
}

step "judge" {
  title = "Judge"
  result "one" {
    title    = "A key that is not there"
    value    = reading.low.makred.near.x ### "No such key"
    unit     = "um"
    positive = "high"
  }
}
