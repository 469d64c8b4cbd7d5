//! What a plan is known by on paper and in signatures.

use super::write;
use crate::model::{Plan, Signature};
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

/// A signature, and whether what was signed is what the plan is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignatureState {
    /// The signature.
    pub signature: Signature,
    /// How it stands.
    pub standing: Standing,
}

/// How a signature stands to the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// The plan is what was signed.
    Matches,
    /// The plan was changed since.
    Changed,
}

/// How each signature of `plan` stands, in their order.
pub fn signature_states(plan: &Plan) -> Vec<SignatureState> {
    if plan.signatures.is_empty() {
        return Vec::new();
    }
    let hash = plan_hash(plan);
    let state = |signature: &Signature| SignatureState {
        signature: signature.clone(),
        standing: if signature.hash == hash { Standing::Matches } else { Standing::Changed },
    };
    plan.signatures.iter().map(state).collect()
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

    #[test]
    fn a_signature_matches_until_the_plan_changes_and_again_when_it_changes_back() {
        let standings = |plan: &Plan| -> Vec<Standing> {
            signature_states(plan).iter().map(|state| state.standing).collect()
        };
        let mut plan = fixtures::empty_plan(2);
        assert_eq!(standings(&plan), []);
        let hash = plan_hash(&plan);
        plan.signatures.push(Signature { by: "A".into(), at: "now".into(), hash });
        plan.signatures.push(Signature { by: "B".into(), at: "before".into(), hash: "0f".into() });
        assert_eq!(standings(&plan), [Standing::Matches, Standing::Changed]);
        plan.train.coupling_slack = None;
        assert_eq!(standings(&plan), [Standing::Changed; 2]);
        plan.train.coupling_slack = fixtures::empty_plan(2).train.coupling_slack;
        assert_eq!(standings(&plan)[0], Standing::Matches);
    }
}
