"""Line drawings of the kinds of pieces, in the manner of old engravings: the demo has no photographs."""
