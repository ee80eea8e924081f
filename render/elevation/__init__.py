"""One face of a plan in; out comes its drawing to scale, with all that stands round the wall."""
