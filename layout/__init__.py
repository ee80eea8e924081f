"""What is and what to do: lengths, job file, claddings, course lines, edges, rakes, pieces, material."""
