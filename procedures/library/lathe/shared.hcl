# What the procedures for lathes share.

table "lathe" {
  title  = "Geometric tests of a centre lathe"
  grades = ["normal", "precision", "home"]

  row "axis_upright" {
    title  = "Spindle axis to carriage travel, upright plane, in 300 mm"
    values = { normal = um(20), precision = um(20), home = um(15) }
    source = "typical of ISO 1708:1989 G7, verify; home: estimate"
  }
  row "axis_level" {
    title  = "Spindle axis to carriage travel, level plane, in 300 mm"
    values = { normal = um(15), precision = um(10), home = um(10) }
    source = "typical of ISO 1708:1989 G7, verify; home: estimate"
  }
  row "turned" {
    title  = "Diameter of a bar turned in the chuck, in 300 mm"
    values = { normal = um(40), precision = um(20), home = um(30) }
    source = "typical of ISO 1708:1989 P1, verify; home: estimate"
  }
  row "pull" {
    title  = "Free end moved by the holding-down screws"
    values = { normal = um(5), precision = um(3), home = um(5) }
    source = "shop rule, estimate"
  }
}
