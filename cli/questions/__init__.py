"""Answers on the terminal in; out comes what is known of a new job."""
