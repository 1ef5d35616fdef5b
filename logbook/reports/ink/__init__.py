"""The answer on changeovers and ink, from the log to its words."""
