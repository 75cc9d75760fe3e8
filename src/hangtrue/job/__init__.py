"""What the user states: the job document, read and checked."""
