"""What the user typed in; out come the job, its plan, starters, errors and choices that commands share."""
