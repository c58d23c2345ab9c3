//! What a recipe says of the waist of its shell: `waist peak="30 mm"`.

use document::check_properties;

use crate::recipe::Written;
use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// How far the shell's waist is drawn down at CF, mm, and where that is written.
pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> Option<Written<f64>> {
    let line = layers.child("waist")?;
    fields.findings.extend(check_properties(line, &["peak"]));
    let value = fields.length(line, "peak", &(0.0..=150.0))?;
    Some(Written {
        value,
        span: line.span().clone(),
    })
}
