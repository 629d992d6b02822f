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
    var frames = plot.getAttribute('data-frames');
    plot.removeAttribute('data-figure');
    plot.removeAttribute('data-frames');
    plot.replaceChildren();
    if (aspect) {
      figure.layout.height = height(plot.clientWidth);
      window.addEventListener('resize', function () {
        window.Plotly.relayout(plot, { height: height(plot.clientWidth) });
      });
    }
    window.Plotly.newPlot(plot, figure.data, figure.layout, figure.config);
    if (frames) {
      // A slider: its charts were made beforehand, on the same axes.
      frames = JSON.parse(frames);
      var box = plot.closest('.magrail-chart'), range = box.querySelector('input[type=range]');
      range.addEventListener('input', function () {
        var frame = frames[+range.value];
        window.Plotly.react(plot, frame.data, Object.assign({}, plot.layout, { shapes: frame.shapes, annotations: frame.annotations }), figure.config);
        box.querySelector('output').textContent = frame.label;
        box.querySelector('.magrail-frame-words').textContent = frame.words;
        range.setAttribute('aria-valuetext', frame.label);
        plot.setAttribute('aria-label', frame.description);
      });
    }
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
