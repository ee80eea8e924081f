"""The words of a command line in; its outputs written, and its exit code out: one module a command."""
