"""A building model (IFC) in; out comes a job: outside walls, openings, ground, and what was understood."""
