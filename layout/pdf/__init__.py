"""A page of a PDF with lines in; out comes a job: its faces and openings, and what was understood."""
