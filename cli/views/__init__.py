"""A job file's text in; out comes what the desk shows of it: fields, faults, drawings, lists, files."""
