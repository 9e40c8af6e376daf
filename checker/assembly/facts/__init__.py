"""What follows from the description, a module for each part of the electrical model."""
