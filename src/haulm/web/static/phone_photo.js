// A photo is drawn anew, smaller: what is sent is the picture alone, without the place and time that
// a camera writes into its files.

const LONGEST_PX = 1600;
const QUALITY = 0.8;

export async function smaller(file) {
  const drawn = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST_PX / Math.max(drawn.width, drawn.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(drawn.width * scale));
  canvas.height = Math.max(1, Math.round(drawn.height * scale));
  canvas.getContext('2d').drawImage(drawn, 0, 0, canvas.width, canvas.height);
  drawn.close();
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no picture'))), 'image/jpeg', QUALITY);
  });
}
