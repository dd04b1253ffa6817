"""What was found, told: one file for each form, each a function from values to text."""
