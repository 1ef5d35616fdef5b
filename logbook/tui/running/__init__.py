"""How the program runs: opening, threads, keys, settings, colours and what is sent to the terminal."""
