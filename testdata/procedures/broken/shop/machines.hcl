# A size under a name that no procedure asks for.
machine "lathe-2" {
  class        = "centre lathe"
  centre_hight = mm(125) ### "Size is not one of the usual"
}
