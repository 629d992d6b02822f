(function tick(waited) {
  // Draws every chart on the page that is not drawn yet: notebook pages run this text away from its place on the page.
  var waiting = window.Plotly ? document.querySelectorAll('.magrail-plot[data-figure]') : [];
  waiting.forEach(function (plot) {
    var figure = JSON.parse(plot.getAttribute('data-figure'));
    plot.removeAttribute('data-figure');
    plot.replaceChildren();
    window.Plotly.newPlot(plot, figure.data, figure.layout, figure.config);
    window.addEventListener('beforeprint', function () {
      window.Plotly.relayout(plot, { autosize: false, width: Math.min(plot.clientWidth, 660) });
    });
    window.addEventListener('afterprint', function () {
      window.Plotly.relayout(plot, { autosize: true, width: null });
    });
  });
  if (!waiting.length && waited < 30000) setTimeout(function () { tick(waited + 50); }, 50);
})(0);
