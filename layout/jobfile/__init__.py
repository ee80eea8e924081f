"""A job file's text in; out comes the job, or every fault with its place; and back: a job as text."""
