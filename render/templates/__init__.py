"""A plan in; out come sheets true to size (story pole, rake templates) and the form to measure with."""
