"""What is meant to happen: stages with their questions and minutes, fitted into the bell."""
