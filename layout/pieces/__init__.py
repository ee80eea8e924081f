"""A plan in; out comes every piece of siding: its shape, its seams, the stock length it is cut from."""
