//! The whole-program tests; one module per boundary or published source.

mod house_rules;
