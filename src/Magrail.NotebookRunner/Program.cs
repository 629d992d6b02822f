using Magrail.NotebookRunner;

// The first form is the runner starting itself: one process for each notebook, since a busy cell cannot be stopped, and the
// working directory, the console and the formatters belong to the whole process.
return args is ["--cells-of", string notebook, string record]
    ? await CellProcess.RunAsync(notebook, record)
    : await Command.RunAsync(args, Console.Out, Console.Error);
