"""What became of a finding since an earlier inspection. Pure."""
