"""A job in; out comes its plan: course lines, edges, rakes, missed limits, and how sure they are."""
