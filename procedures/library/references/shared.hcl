# What the procedures for references share: a reference is proved beside the
# machine that it serves, and its run belongs to that machine.

caution "plate_work" {
  text   = "Blocks, squares and edges fall: both hands, and a cloth on the floor. Never slide a finger under one."
  hazard = "falling"
  source = "trade practice"
}

# Fine enough for what others are held against.
instrument "fine" {
  kind       = "lever indicator, 0.001 mm"
  resolution = um(1)
  error      = um(2)
  turn       = mm(0.1)
  source     = "typical of DIN 2270; verify"

  repeatability = um(0.3)
}

# Between two blades or edges that face one another.
instrument "gap" {
  kind       = "inside micrometer or bore gauge, 0.001 mm"
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
