//! Which strand passes over which; follows from the moves alone.
