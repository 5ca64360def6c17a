"""What guide blocks bear, and how hard they are to push."""
