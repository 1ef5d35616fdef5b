"""How much ink each changeover, print and cleaning takes: a mass balance over the life of every cartridge."""
