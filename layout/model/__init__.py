"""The plain values: a job as measured, claddings, a plan, lengths as the tape reads them; and the errors."""
