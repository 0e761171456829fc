// A photo is made smaller before it is sent; without this script it is sent as it is.

const input = document.querySelector('input[data-smaller]');
if (input) {
  const {smaller} = await import(input.dataset.smaller);
  input.addEventListener('change', async () => {
    const [file] = input.files;
    if (!file) return;
    try {
      const small = await smaller(file);
      const list = new DataTransfer();
      list.items.add(new File([small], 'photo.jpg', {type: 'image/jpeg'}));
      input.files = list.files;
    } catch {
      // What this browser cannot draw is sent as it is, and the laptop says what is wrong with it.
    }
  });
}
