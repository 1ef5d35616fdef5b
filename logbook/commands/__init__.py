"""The commands, a module for each group of them. Each is thin; heavy modules are imported late."""
