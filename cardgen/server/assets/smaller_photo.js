"use strict";
// Make a photo small before it is kept: a phone has little room for what waits, and a poor signal.

/* exported smallerPhoto */

const JPEG_QUALITY = 0.82; // our choice: writing on a tag stays readable

// The photo upright, at most `longest` pixels long; as it is where the browser cannot read it.
async function smallerPhoto(file, longest) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve) => {
      canvas.toBlob((blob) => resolve(blob || file), "image/jpeg", JPEG_QUALITY);
    });
  } catch {
    return file;
  }
}
