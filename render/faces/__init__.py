"""A face of a plan in; out come its sheets: the drawing as large as it may be, its notes, its list."""
