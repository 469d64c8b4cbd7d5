//! The program: arguments to the commands or the window, and the exit code.

fn main() {}
