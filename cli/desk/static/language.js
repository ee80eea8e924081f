// The language is chosen: it is kept in a cookie, and the page comes again in it.
const choice = document.querySelector("#language");
choice.addEventListener("change", () => {
  document.cookie = `language=${choice.value}; path=/; max-age=31536000; samesite=lax`;
  location.reload();
});
