"""Results in; out come tables for the terminal and for spreadsheets."""
