"""A plan in; out come the sections that its edges need, and which of them each edge is made by."""
