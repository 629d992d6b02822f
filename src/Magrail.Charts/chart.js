(function tick(waited) {
  // Draws every chart on the page that is not drawn yet: notebook pages run this text away from its place on the page.
  var waiting = window.Plotly ? document.querySelectorAll('.magrail-plot[data-figure]') : [];
  waiting.forEach(function (plot) {
    var figure = JSON.parse(plot.getAttribute('data-figure'));
    // A picture at equal scale both ways is as high as its width asks for.
    var aspect = figure.layout.meta && figure.layout.meta.aspect;
    var margin = figure.layout.margin;
    function height(width) {
      return margin.t + margin.b + Math.round(Math.max(90, Math.min(560, aspect * (width - margin.l - margin.r))));
    }
    plot.removeAttribute('data-figure');
    plot.replaceChildren();
    if (aspect) {
      figure.layout.height = height(plot.clientWidth);
      window.addEventListener('resize', function () {
        window.Plotly.relayout(plot, { height: height(plot.clientWidth) });
      });
    }
    window.Plotly.newPlot(plot, figure.data, figure.layout, figure.config);
    window.addEventListener('beforeprint', function () {
      var width = Math.min(plot.clientWidth, 660);
      window.Plotly.relayout(plot, aspect ? { autosize: false, width: width, height: height(width) } : { autosize: false, width: width });
    });
    window.addEventListener('afterprint', function () {
      window.Plotly.relayout(plot, aspect ? { autosize: true, width: null, height: height(plot.clientWidth) } : { autosize: true, width: null });
    });
  });
  if (!waiting.length && waited < 30000) setTimeout(function () { tick(waited + 50); }, 50);
})(0);
