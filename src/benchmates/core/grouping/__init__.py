"""Who works with whom, for every stage at once: a request in, groups and their compromise out."""
