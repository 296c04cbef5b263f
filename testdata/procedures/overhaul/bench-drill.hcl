# A plan of four for a bench drill: the table, the column, the spindle, and the
# belt again after a week. Everything about this drill is made up.
overhaul "bench-drill" {
  title    = "Bench drill, from the crate to work"
  machine  = "bench drill"
  revision = "1"
}

task "table" { procedure = "drill-table" }
task "spindle" {
  procedure = "drill-spindle"
  after     = [task.table]
}
task "quill" {
  procedure = "drill-quill"
  after     = [task.spindle]
  when      = accepted["drill-spindle"].result.lean > um(15)
}
task "table_again" {
  procedure = "drill-table"
  after     = [task.spindle, task.quill]
  delay     = days(7)
}
