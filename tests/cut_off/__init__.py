"""Forms cut off from the network at each of their steps: nothing entered is lost, and nothing is done twice."""
