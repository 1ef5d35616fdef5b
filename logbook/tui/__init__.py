"""The terminal program: the app, its places, forms and widgets. Only this package imports Textual."""
