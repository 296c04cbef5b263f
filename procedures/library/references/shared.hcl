# What the procedures for references share: a reference is proved beside the
# machine that it serves, and its run belongs to that machine.

caution "plate_work" {
  text   = "Blocks, squares, edges and levels fall: both hands, and a cloth on the floor. No finger under one."
  hazard = "falling"
  source = "trade practice"
}

# Fine enough for what others are held against.
instrument "fine" {
  kind       = "lever indicator of 0.001 mm"
  resolution = um(1)
  error      = um(2)
  turn       = mm(0.1)
  source     = "typical of DIN 2270; verify"

  repeatability = um(0.3)
}

# Between two blades or edges that face one another.
instrument "inside_gauge" {
  kind       = "inside micrometer of 0.001 mm"
  resolution = um(1)
  error      = um(3)
  turn       = mm(0.5)
  source     = "typical of DIN 863; verify"

  repeatability = um(0.5)
}

caution "rolling" {
  text   = "A mandrel rolls out of its blocks: turn it by hand, slowly, and let nothing stick out where a hand is."
  hazard = "falling"
  source = "trade practice"
}

# By grade of plate. Overall a plate may be out by the constant and what grows
# with its diagonal; anywhere within 250 mm by the local limit.
table "plate" {
  title  = "Flatness of a surface plate"
  grades = ["0", "1", "2", "3"]

  row "constant" {
    title  = "Overall flatness: part that does not grow with the plate"
    values = { "0" = um(2.5), "1" = um(5), "2" = um(10), "3" = um(20) }
    source = "typical of ISO 8512-2, verify"
  }
  row "growth" {
    title  = "Overall flatness: part that grows with the diagonal"
    values = { "0" = um(3) / m(1), "1" = um(6) / m(1), "2" = um(12) / m(1), "3" = um(24) / m(1) }
    source = "typical of ISO 8512-2, verify"
  }
  row "local" {
    title  = "Local flatness, within any 250 mm"
    values = { "0" = um(3.5), "1" = um(7), "2" = um(15), "3" = um(30) }
    source = "typical of ISO 8512-2, verify"
  }
}
