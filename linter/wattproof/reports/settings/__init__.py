"""What a project sets for its checks, in each format."""
