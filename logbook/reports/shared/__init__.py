"""What the reports share: tables, names, and answers that are kept until the log moves."""
