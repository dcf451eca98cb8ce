"""What the person says, read and checked, and what is known of each device from it."""
