# machines.hcl of a shop. Everything here is made up.
machine "mill-1" {
  class         = "milling machine"
  title         = "The mill under the stairs"
  maker         = "Brook and Sons"
  serial        = "1180"
  stands        = "bay 3"
  spindle_taper = "R8"
}

machine "lathe-2" {
  class         = "centre lathe"
  centre_height = mm(125)
  test_bar { length = mm(300) }
}
