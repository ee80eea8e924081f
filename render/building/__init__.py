"""A face of a plan in; out come the drawn parts of its wall: siding, pieces, openings, corners, roof edge."""
