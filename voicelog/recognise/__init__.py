"""Recognisers: sound of one utterance in, hypotheses with words and confidences out."""
