"""Is a lay right? Judged from the cloth and the paper, without looking at how it was made."""
