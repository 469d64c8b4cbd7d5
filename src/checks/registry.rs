//! All checks, a line each, in the order in which reports list them.

use super::Check;

/// Every check of the program.
pub static REGISTRY: &[&Check] = &[];
