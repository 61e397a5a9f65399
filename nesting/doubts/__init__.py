"""Does anything written down look like a slip, though it can be laid? `words.doubts` says it."""
