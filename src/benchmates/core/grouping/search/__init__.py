"""The search: from a start by annealing to groups that few swaps could mend."""
