(function () {
  var code = Array.from(document.querySelectorAll('details.code'));
  if (!code.length) return;
  var button = document.createElement('button');
  button.className = 'fold-all';
  button.type = 'button';
  function label() { button.textContent = code.some(function (each) { return each.open; }) ? 'Hide the code' : 'Show the code'; }
  button.addEventListener('click', function () {
    var open = !code.some(function (each) { return each.open; });
    code.forEach(function (each) { each.open = open; });
    label();
  });
  code.forEach(function (each) { each.addEventListener('toggle', label); });
  label();
  document.querySelector('main').prepend(button);
})();
