"""Pictures before they are printed: lightness, size, soft proof, shadow lift, strips and wedges. Only here is Pillow used."""
