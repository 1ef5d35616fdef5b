"""What is asked of a picture file, a measured sheet or a label."""
