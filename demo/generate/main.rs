//! Writes the two demonstration surveys beside this folder. The same source gives the same bytes:
//! `cargo run --example demo-surveys`.

mod surveys;

use std::error::Error;
use std::fs;
use std::path::Path;

fn main() -> Result<(), Box<dyn Error>> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    for (file, survey) in
        [("harrier-wharf.xlsx", surveys::harrier::survey()), ("larch-terrace.xlsx", surveys::larch::survey())]
    {
        fs::write(demo.join(file), survey.to_bytes()?)?;
    }
    Ok(())
}
