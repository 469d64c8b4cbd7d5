//! Temporary stand-in.
/// x
pub fn read_bytes(path: &std::path::Path, _limit: usize) -> Result<Vec<u8>, std::io::Error> {
    std::fs::read(path)
}
