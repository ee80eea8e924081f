"""The edges, limits and siding of one course set in; out come its best course lines and their score."""
