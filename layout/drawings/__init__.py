"""A drafter's drawing in; out comes a job: its faces, openings and heights, and what was understood."""
