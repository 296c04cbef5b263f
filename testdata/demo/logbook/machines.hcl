# A small shop that rebuilds old lathes. Everything here is made up.

machine "lathe-4" {
  class           = "centre lathe"
  title           = "the grey lathe by the door"
  serial          = "2207"
  stands          = "back room"
  spindle_taper   = "MT4"
  centre_height   = mm(140)
  tailstock_base  = mm(160)
  cross_ways      = mm(320)
  leadscrew_pitch = mm(3)
  feet_across     = mm(180)
  feet_along      = mm(600)
  test_bar { length = mm(320) }
}
