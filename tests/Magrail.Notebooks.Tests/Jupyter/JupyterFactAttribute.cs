namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>A test that needs Jupyter, the .NET kernel and a browser, and says what is missing where one is not there.</summary>
public sealed class JupyterFactAttribute : FactAttribute
{
    public JupyterFactAttribute() => Skip = JupyterParts.Missing;
}

/// <summary>Tests that start Jupyter run one after the other: each keeps two cores busy.</summary>
[CollectionDefinition(Name)]
public sealed class OneJupyterAtATime
{
    public const string Name = "Jupyter";
}
