// A photo made smaller on the phone before it is kept and sent; the photo as it came wherever that does not work.
"use strict";
window.cotter = window.cotter || {};

cotter.smaller = (() => {
  const LONGEST_PX = 2000; // the server shows 1600
  const QUALITY = 0.85;
  const SMALL_ENOUGH = 600_000; // bytes
  const PICTURES = ["image/jpeg", "image/png", "image/webp", "image/heic", "image/heif"];
  // Two pixels side by side, noted as lying on their side (Exif 2.3, orientation 6): upright they stand one over the other.
  const ON_ITS_SIDE = "/9j/4AAQSkZJRgABAQAAAQABAAD/4QAiRXhpZgAATU0AKgAAAAgAAQESAAMAAAABAAYAAAAAAAD/2wBDABALDA4MChAODQ4SERAT" +
    "GCgaGBYWGDEjJR0oOjM9PDkzODdASFxOQERXRTc4UG1RV19iZ2hnPk1xeXBkeFxlZ2P/wAALCAABAAIBAREA/8QAFAABAAAAAAAA" +
    "AAAAAAAAAAAAB//EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AQH//2Q==";
  let upright;

  // Does this browser turn a picture as its camera noted? One that does not would send photos lying on their side.
  function turnsPictures() {
    upright ??= (async () => {
      const bytes = Uint8Array.from(atob(ON_ITS_SIDE), (letter) => letter.charCodeAt(0));
      const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/jpeg" }), { imageOrientation: "from-image" });
      return bitmap.width === 1 && bitmap.height === 2;
    })().catch(() => false);
    return upright;
  }

  async function redrawn(file) {
    const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, LONGEST_PX / Math.max(bitmap.width, bitmap.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(bitmap.width * scale));
    canvas.height = Math.max(1, Math.round(bitmap.height * scale));
    const pen = canvas.getContext("2d");
    pen.fillStyle = "white"; // behind what is transparent
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.imageSmoothingQuality = "high";
    pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
    canvas.width = canvas.height = 0; // phones run out of canvas memory
    return blob && blob.type === "image/jpeg" ? new Uint8Array(await blob.arrayBuffer()) : null;
  }

  // What the camera noted, when above all, for the smaller picture, which stands upright now. JPEG: the segment APP1.
  function notesOf(bytes) {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    if (view.getUint16(0) !== 0xffd8) return null;
    for (let at = 2; at + 4 < bytes.length && view.getUint8(at) === 0xff; at += 2 + view.getUint16(at + 2)) {
      const marker = view.getUint8(at + 1);
      if (marker === 0xda) return null; // here the picture itself begins
      if (marker === 0xe1 && view.getUint32(at + 4) === 0x45786966) {
        const segment = bytes.slice(at, at + 2 + view.getUint16(at + 2));
        return setUpright(segment) ? segment : null;
      }
    }
    return null;
  }

  function setUpright(segment) {
    const view = new DataView(segment.buffer);
    const start = 10; // marker, length, "Exif", two zeros; then TIFF 6.0 with offsets from here
    const little = view.getUint16(start) === 0x4949;
    const first = start + view.getUint32(start + 4, little);
    const count = view.getUint16(first, little);
    for (let entry = first + 2; entry < first + 2 + 12 * count; entry += 12) {
      if (view.getUint16(entry, little) === 0x0112) view.setUint16(entry + 8, 1, little);
    }
    return true;
  }

  function withNotes(picture, original) {
    try {
      const notes = notesOf(original);
      if (!notes) return picture;
      const whole = new Uint8Array(picture.length + notes.length);
      whole.set(picture.subarray(0, 2));
      whole.set(notes, 2);
      whole.set(picture.subarray(2), 2 + notes.length);
      return whole;
    } catch {
      return picture; // damaged notes are no reason to lose the picture
    }
  }

  // {name, type, bytes}: smaller where it can be, and never larger than it came.
  return async function smaller(file) {
    const original = new Uint8Array(await file.arrayBuffer());
    const asItCame = { name: file.name, type: file.type, bytes: original.buffer };
    if (original.length <= SMALL_ENOUGH || !PICTURES.includes(file.type)) return asItCame;
    try {
      if (!(await turnsPictures())) return asItCame;
      const picture = await redrawn(file);
      const made = picture && withNotes(picture, original);
      if (!made || made.length >= original.length) return asItCame;
      return { name: file.name.replace(/\.\w+$/, "") + ".jpg", type: "image/jpeg", bytes: made.buffer };
    } catch {
      return asItCame;
    }
  };
})();
