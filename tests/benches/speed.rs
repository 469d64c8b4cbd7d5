//! Speed of the mechanics, the checks and a frame; prints medians and 99th percentiles.

fn main() {}
