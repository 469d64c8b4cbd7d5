//! What a plan is known by on paper and in signatures.

use super::write;
use crate::model::Plan;
use sha2::{Digest, Sha256};

/// The SHA-256 (FIPS 180-4) of the canonical text of `plan` without its signatures, as 64 hexadecimal digits.
///
/// Signatures are left out, so that signing a plan does not change what was signed; everything else counts,
/// the records of what was loaded and weighed too. Equal plans have equal hashes whatever their files look like.
pub fn plan_hash(plan: &Plan) -> String {
    let unsigned = Plan { signatures: Vec::new(), ..plan.clone() };
    let digest = Sha256::digest(write(&unsigned).as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures;
    use crate::model::Signature;

    #[test]
    fn a_signature_does_not_change_what_was_signed_and_a_note_does() {
        let plan = fixtures::empty_plan(2);
        let hash = plan_hash(&plan);
        assert_eq!(hash.len(), 64);
        let signature = Signature { by: "A".into(), at: "now".into(), hash: hash.clone() };
        assert_eq!(plan_hash(&Plan { signatures: vec![signature], ..plan.clone() }), hash);
        assert_ne!(plan_hash(&Plan { notes: "changed".into(), ..plan }), hash);
    }
}
