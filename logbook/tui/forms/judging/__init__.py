"""Forms for a judgement."""
