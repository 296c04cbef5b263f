# A small shop that rebuilds old lathes. Everything here is made up.

machine "lathe-4" {
  class         = "centre lathe"
  title         = "the grey lathe by the door"
  serial        = "2207"
  stands        = "back room"
  spindle_taper = "MT4"
  centre_height = mm(140)
  test_bar { length = mm(320) }
}
