"""A job as one file that another installation takes in."""
