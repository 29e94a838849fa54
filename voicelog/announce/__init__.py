"""Answering by sound: tones and spoken read-back."""
