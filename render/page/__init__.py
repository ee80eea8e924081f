"""A plan and its pieces in; out comes one page for the phone."""
