"""What goes to the bench on paper: a plan as a page that prints."""
