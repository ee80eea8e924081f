"""A sentence in English in; out comes the same in the language that is spoken now, from the catalogues."""
