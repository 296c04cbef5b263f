# What the procedures for lathes share: the limits of a centre lathe's tests,
# by grade. Lengths are the standard's; a gate scales its limit to its own
# length with scaled(limit, of, reference, floor, step).
#
# The lasting name of each test (a gate's "test") is that of its row here, so
# that as found, as left and other years' runs stand side by side.

instrument "dial" {
  kind       = "dial indicator of 0.01 mm"
  resolution = um(10)
  error      = um(10)
  turn       = mm(1)
  source     = "typical of DIN 878, verify"

  repeatability = um(2)
}

table "lathe" {
  title  = "Geometric tests of a centre lathe"
  grades = ["normal", "precision", "home"]

  # --- the bed ---
  row "bed_straight" {
    title  = "Carriage ways, upright plane, up to 500 between centres"
    values = { normal = um(10), precision = um(10), home = um(10) }
    source = "typical of ISO 1708:1989 G1, verify"
  }
  row "bed_straight_1000" {
    title  = "Carriage ways, upright plane, 1000 between centres"
    values = { normal = um(20), precision = um(15), home = um(20) }
    source = "typical of ISO 1708:1989 G1, verify"
  }
  row "bed_straight_more" {
    title  = "Carriage ways, upright plane, added for each metre beyond the first"
    values = { normal = um(10) / m(1), precision = um(10) / m(1), home = um(10) / m(1) }
    source = "typical of ISO 1708:1989 G1, verify"
  }
  row "bed_twist" {
    title  = "Carriage ways, change of cross level along the bed"
    values = { normal = um(40) / m(1), precision = um(30) / m(1), home = um(30) / m(1) }
    source = "typical of ISO 1708:1989 G1, verify; home: estimate"
  }
  row "wear_leave" {
    title  = "Wear of the carriage ways that may be left as it is"
    values = { normal = um(20), precision = um(20), home = um(20) }
    source = "shop rule, estimate"
  }
  row "wear_scrape" {
    title  = "Wear of the carriage ways that can still be scraped; more is machined first"
    values = { normal = um(130), precision = um(130), home = um(130) }
    source = "rebuilders' advice: above 0.13 mm (0.005 in) machine or grind first"
  }
  row "saddle_rock" {
    title  = "Saddle on the bed: rock at a corner"
    values = { normal = um(5), precision = um(5), home = um(5) }
    source = "shop rule, estimate"
  }
  row "scraped_flat" {
    title  = "Scraped surface: straightness over 300 mm"
    values = { normal = um(10), precision = um(5), home = um(10) }
    source = "rebuilders' practice: 0.005 mm in 300 for precision work; normal: estimate"
  }
  row "spots" {
    title  = "Scraped ways: bearing spots in a square of 25 mm"
    values = { normal = 12, precision = 18, home = 12 }
    source = "rebuilders' practice: 12 to 18 to the square inch"
  }
  row "bearing" {
    title  = "Scraped ways: share of the surface that bears"
    values = { normal = percent(40), precision = percent(50), home = percent(40) }
    source = "common practice, 40 to 50 %"
  }
  row "carriage_straight" {
    title  = "Carriage motion, level plane, up to 500 between centres"
    values = { normal = um(15), precision = um(10), home = um(15) }
    source = "typical of ISO 1708:1989 G2, verify"
  }
  row "carriage_straight_1000" {
    title  = "Carriage motion, level plane, 1000 between centres"
    values = { normal = um(20), precision = um(15), home = um(20) }
    source = "typical of ISO 1708:1989 G2, verify"
  }
  row "carriage_straight_more" {
    title  = "Carriage motion, level plane, added for each metre beyond the first"
    values = { normal = um(5) / m(1), precision = um(10) / m(1), home = um(5) / m(1) }
    source = "typical of ISO 1708:1989 G2, verify"
  }
  row "tailways" {
    title  = "Tailstock motion to carriage motion, upright plane"
    values = { normal = um(30), precision = um(20), home = um(30) }
    source = "typical of ISO 1708:1989 G3, verify"
  }
  row "tailways_level" {
    title  = "Tailstock motion to carriage motion, level plane"
    values = { normal = um(30), precision = um(20), home = um(30) }
    source = "typical of ISO 1708:1989 G3, verify"
  }
  row "tailways_local" {
    title  = "Tailstock motion to carriage motion, in any 500 mm"
    values = { normal = um(20), precision = um(10), home = um(20) }
    source = "typical of ISO 1708:1989 G3, verify"
  }

  # --- the spindle ---
  row "axial_slip" {
    title  = "Spindle, periodic axial slip"
    values = { normal = um(10), precision = um(5), home = um(10) }
    source = "typical of ISO 1708:1989 G4, verify"
  }
  row "camming" {
    title  = "Spindle, camming of the face-plate's seat"
    values = { normal = um(20), precision = um(10), home = um(20) }
    source = "typical of ISO 1708:1989 G4, verify"
  }
  row "nose" {
    title  = "Spindle nose, run-out of the centring seat"
    values = { normal = um(10), precision = um(7), home = um(10) }
    source = "typical of ISO 1708:1989 G5, verify"
  }
  row "taper_near" {
    title  = "Spindle taper, run-out at the nose"
    values = { normal = um(10), precision = um(5), home = um(5) }
    source = "typical of ISO 1708:1989 G6, verify; home: estimate"
  }
  row "taper_far" {
    title  = "Spindle taper, run-out at 300 mm"
    values = { normal = um(20), precision = um(15), home = um(15) }
    source = "typical of ISO 1708:1989 G6, verify; home: estimate"
  }
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
  row "centre" {
    title  = "Live centre, run-out"
    values = { normal = um(15), precision = um(10), home = um(15) }
    source = "typical of ISO 1708:1989 G8, verify"
  }
  row "pull" {
    title  = "Free end moved by the holding-down screws"
    values = { normal = um(5), precision = um(3), home = um(5) }
    source = "shop rule, estimate"
  }

  row "play" {
    title  = "Spindle, play under 200 N, rolling bearings"
    values = { normal = um(10), precision = um(6), home = um(10) }
    source = "shop rule, estimate; plain bearings: the maker's figure"
  }

  # --- the tailstock ---
  row "sleeve_upright" {
    title  = "Tailstock sleeve to carriage travel, upright plane, in 100 mm"
    values = { normal = um(20), precision = um(15), home = um(20) }
    source = "typical of ISO 1708:1989 G9, verify"
  }
  row "sleeve_level" {
    title  = "Tailstock sleeve to carriage travel, level plane, in 100 mm"
    values = { normal = um(15), precision = um(10), home = um(15) }
    source = "typical of ISO 1708:1989 G9, verify"
  }
  row "sleeve_taper" {
    title  = "Taper of the tailstock sleeve to carriage travel, either plane, in 300 mm"
    values = { normal = um(30), precision = um(20), home = um(30) }
    source = "typical of ISO 1708:1989 G10, verify"
  }
  row "centre_height" {
    title  = "Height of the centres, tailstock higher only"
    values = { normal = um(40), precision = um(20), home = um(20) }
    source = "typical of ISO 1708:1989 G11, verify; home: estimate"
  }

  # --- slides and leadscrew ---
  row "top_slide" {
    title  = "Top slide to spindle axis, upright plane, in 300 mm"
    values = { normal = um(40), precision = um(30), home = um(40) }
    source = "typical of ISO 1708:1989 G12, verify"
  }
  row "cross_slide" {
    title  = "Cross slide square to the spindle axis, in 300 mm, facing hollow only"
    values = { normal = um(20), precision = um(10), home = um(20) }
    source = "typical of ISO 1708:1989 G13, verify"
  }
  row "leadscrew_slip" {
    title  = "Leadscrew, axial slip"
    values = { normal = um(15), precision = um(10), home = um(15) }
    source = "typical of ISO 1708:1989 G14, verify"
  }
  row "gib_play" {
    title  = "Slide pushed by hand against its gib"
    values = { normal = um(10), precision = um(10), home = um(10) }
    source = "shop rule, estimate"
  }
  row "half_nuts" {
    title  = "Leadscrew pushed aside by the closed half-nuts"
    values = { normal = um(100), precision = um(100), home = um(100) }
    source = "makers' practice, 0.10 mm"
  }
  row "leadscrew_parallel" {
    title  = "Leadscrew parallel to the carriage's travel, either plane"
    values = { normal = um(100), precision = um(100), home = um(100) }
    source = "makers' practice, 0.10 mm"
  }
  row "lead_300" {
    title  = "Lead of the screw, in 300 mm"
    values = { normal = um(40), precision = um(30), home = um(40) }
    source = "typical of ISO 1708:1989 G15, verify"
  }
  row "lead_60" {
    title  = "Lead of the screw, in 60 mm"
    values = { normal = um(15), precision = um(10), home = um(15) }
    source = "typical of ISO 1708:1989 G15, verify"
  }

  # --- working tests ---
  row "round" {
    title  = "Roundness of a bar turned in the chuck"
    values = { normal = um(10), precision = um(7), home = um(10) }
    source = "typical of ISO 1708:1989 P1, verify"
  }
  row "turned" {
    title  = "Diameter of a bar turned in the chuck, in 300 mm, larger at the headstock only"
    values = { normal = um(40), precision = um(20), home = um(30) }
    source = "typical of ISO 1708:1989 P1, verify; home: estimate"
  }
  row "faced" {
    title  = "Face of a disc of 300 mm, hollow only"
    values = { normal = um(25), precision = um(15), home = um(25) }
    source = "typical of ISO 1708:1989 P2, verify"
  }
  row "thread_300" {
    title  = "Pitch of a thread, in 300 mm"
    values = { normal = um(40), precision = um(30), home = um(40) }
    source = "typical of ISO 1708:1989 P3, verify"
  }
}
