"""Bare numbers and words in; out come the plain values of job, cladding and plan, lengths, and errors."""
