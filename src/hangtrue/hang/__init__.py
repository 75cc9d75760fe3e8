"""Plan to hung: what to drill, cut, pack, set, bring, and in which order."""
