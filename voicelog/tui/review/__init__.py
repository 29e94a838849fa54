"""The review screen: going through a log at the bench, correcting it, signing it."""
