"""What a reading means now: places carried over, corrections, standing by. No input or output."""
