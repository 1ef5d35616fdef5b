"""What a person does at the bench: plain functions on an open store, each one undoable entry in its journal."""
