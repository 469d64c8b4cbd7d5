//! A CPU rasteriser of egui meshes: pictures of the editor with no GPU and no display.
use crate::harness::Editor;
use egui::{
    Context, FullOutput, TextureId, TexturesDelta,
    epaint::{ClippedPrimitive, ImageData, ImageDelta, Primitive, Vertex},
};
use egui_kittest::TestRenderer;
use image::{Rgba, RgbaImage};
use std::cell::Cell;
use std::collections::HashMap;

thread_local! {
    /// The part of the window that is painted, in points; none: all of it.
    static PART: Cell<Option<egui::Rect>> = const { Cell::new(None) };
}

/// Paints a part of the window alone, in whole points: much less work than all of it.
pub(crate) fn render_part(editor: &mut Editor, part: egui::Rect) -> RgbaImage {
    let part = egui::Rect::from_min_max(part.min.round(), part.max.round());
    PART.set(Some(part));
    let whole = editor.render().unwrap();
    PART.set(None);
    let [x, y, width, height] = [part.left(), part.top(), part.width(), part.height()].map(|at| at as u32);
    image::imageops::crop_imm(&whole, x, y, width, height).to_image()
}

struct Tex {
    w: usize,
    h: usize,
    px: Vec<[f32; 4]>,
    nearest: bool,
}

#[derive(Default)]
pub(crate) struct CpuRenderer {
    tex: HashMap<TextureId, Tex>,
}

fn to_f(c: egui::Color32) -> [f32; 4] {
    c.to_array().map(f32::from)
}

impl CpuRenderer {
    fn apply(&mut self, id: TextureId, d: &ImageDelta) {
        let ImageData::Color(img) = &d.image;
        let [w, h] = img.size;
        let src: Vec<[f32; 4]> = img.pixels.iter().map(|c| to_f(*c)).collect();
        match d.pos {
            None => {
                self.tex.insert(
                    id,
                    Tex { w, h, px: src, nearest: d.options.magnification == egui::TextureFilter::Nearest },
                );
            }
            Some([x0, y0]) => {
                if let Some(t) = self.tex.get_mut(&id) {
                    for y in 0..h {
                        let o = (y0 + y) * t.w + x0;
                        t.px[o..o + w].copy_from_slice(&src[y * w..(y + 1) * w]);
                    }
                }
            }
        }
    }
}

impl Tex {
    fn at(&self, x: i64, y: i64) -> [f32; 4] {
        let x = x.clamp(0, self.w as i64 - 1) as usize;
        let y = y.clamp(0, self.h as i64 - 1) as usize;
        self.px[y * self.w + x]
    }
    fn sample(&self, u: f32, v: f32) -> [f32; 4] {
        let (fx, fy) = (u * self.w as f32, v * self.h as f32);
        if self.nearest {
            return self.at(fx.floor() as i64, fy.floor() as i64);
        }
        // To a 256th of a texel, as graphics processors do it: letters drawn pixel by pixel then look the same wherever
        // in the texture they came to stand.
        let snapped = |texels: f32| (texels * 256.0).round() / 256.0;
        let (fx, fy) = (snapped(fx - 0.5), snapped(fy - 0.5));
        let (x0, y0) = (fx.floor(), fy.floor());
        let (tx, ty) = (fx - x0, fy - y0);
        let (x0, y0) = (x0 as i64, y0 as i64);
        let (a, b, c, d) =
            (self.at(x0, y0), self.at(x0 + 1, y0), self.at(x0, y0 + 1), self.at(x0 + 1, y0 + 1));
        std::array::from_fn(|i| {
            let top = a[i] + (b[i] - a[i]) * tx;
            let bot = c[i] + (d[i] - c[i]) * tx;
            top + (bot - top) * ty
        })
    }
}

/// Premultiplied, gamma-space blending, as the egui backends do it.
#[expect(clippy::too_many_arguments, reason = "the inner loop of a rasteriser, called from one place")]
fn triangle(buf: &mut [[f32; 4]], w: usize, clip: [i64; 4], ppp: f32, v: [&Vertex; 3], tex: &Tex) {
    let p = v.map(|v| (f64::from(v.pos.x * ppp), f64::from(v.pos.y * ppp)));
    let edge =
        |a: (f64, f64), b: (f64, f64), c: (f64, f64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    let area = edge(p[0], p[1], p[2]);
    if area == 0.0 || !area.is_finite() {
        return;
    }
    let s = area.signum();
    // top-left fill rule, so that shared edges are painted exactly once
    let top_left = |a: (f64, f64), b: (f64, f64)| {
        let (dx, dy) = ((b.0 - a.0) * s, (b.1 - a.1) * s);
        dy < 0.0 || (dy == 0.0 && dx > 0.0)
    };
    let tl = [top_left(p[1], p[2]), top_left(p[2], p[0]), top_left(p[0], p[1])];
    let lo = |f: fn(&(f64, f64)) -> f64| p.iter().map(f).fold(f64::INFINITY, f64::min).floor() as i64;
    let hi = |f: fn(&(f64, f64)) -> f64| p.iter().map(f).fold(f64::NEG_INFINITY, f64::max).ceil() as i64;
    let (x0, x1) = (lo(|q| q.0).max(clip[0]), hi(|q| q.0).min(clip[2]));
    let (y0, y1) = (lo(|q| q.1).max(clip[1]), hi(|q| q.1).min(clip[3]));
    let col = v.map(|v| to_f(v.color));
    let flat_uv = v[0].uv == v[1].uv && v[1].uv == v[2].uv;
    let flat_tex = if flat_uv { Some(tex.sample(v[0].uv.x, v[0].uv.y)) } else { None };
    for y in y0..y1 {
        for x in x0..x1 {
            let c = (x as f64 + 0.5, y as f64 + 0.5);
            let e = [edge(p[1], p[2], c) * s, edge(p[2], p[0], c) * s, edge(p[0], p[1], c) * s];
            if (0..3).any(|i| e[i] < 0.0 || (e[i] == 0.0 && !tl[i])) {
                continue;
            }
            let b = e.map(|e| (e / (area * s)) as f32);
            let t = flat_tex.unwrap_or_else(|| {
                let u = b[0] * v[0].uv.x + b[1] * v[1].uv.x + b[2] * v[2].uv.x;
                let w = b[0] * v[0].uv.y + b[1] * v[1].uv.y + b[2] * v[2].uv.y;
                tex.sample(u, w)
            });
            let d = &mut buf[y as usize * w + x as usize];
            let src: [f32; 4] = std::array::from_fn(|i| {
                (b[0] * col[0][i] + b[1] * col[1][i] + b[2] * col[2][i]) * t[i] / 255.0
            });
            let k = 1.0 - src[3] / 255.0;
            for i in 0..4 {
                d[i] = src[i] + d[i] * k;
            }
        }
    }
}

impl TestRenderer for CpuRenderer {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        for (id, images) in delta.set.drain() {
            for d in &images {
                self.apply(id, d);
            }
        }
        for id in delta.free.drain() {
            self.tex.remove(&id);
        }
    }

    fn render(&mut self, ctx: &Context, output: &FullOutput) -> Result<RgbaImage, String> {
        let ppp = ctx.pixels_per_point();
        let size = ctx.content_rect().size() * ppp;
        let (w, h) = (size.x.round() as usize, size.y.round() as usize);
        let mut buf = vec![[0.0f32; 4]; w * h];
        for ClippedPrimitive { clip_rect, primitive } in ctx.tessellate(output.shapes.clone(), ppp) {
            let Primitive::Mesh(m) = primitive else {
                return Err("paint callbacks are not supported".into());
            };
            let tex = self.tex.get(&m.texture_id).ok_or("unknown texture")?;
            let part = PART.get().unwrap_or(egui::Rect::EVERYTHING);
            let clip_rect = clip_rect.intersect(part);
            if !clip_rect.is_positive() {
                continue;
            }
            let clip = [
                ((clip_rect.min.x * ppp).round() as i64).clamp(0, w as i64),
                ((clip_rect.min.y * ppp).round() as i64).clamp(0, h as i64),
                ((clip_rect.max.x * ppp).round() as i64).clamp(0, w as i64),
                ((clip_rect.max.y * ppp).round() as i64).clamp(0, h as i64),
            ];
            for i in m.indices.chunks_exact(3) {
                triangle(
                    &mut buf,
                    w,
                    clip,
                    ppp,
                    [&m.vertices[i[0] as usize], &m.vertices[i[1] as usize], &m.vertices[i[2] as usize]],
                    tex,
                );
            }
        }
        Ok(RgbaImage::from_fn(w as u32, h as u32, |x, y| {
            Rgba(buf[y as usize * w + x as usize].map(|c| (c + 0.5).clamp(0.0, 255.0) as u8))
        }))
    }
}
