"""A plan and its pieces in; out come the sentences that a crew reads, the same in every output."""
