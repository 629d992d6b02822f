namespace Magrail.Tests.Laws;

/// <summary>The worst deviation seen of each law, printed along.</summary>
internal sealed class Worst
{
    private readonly Dictionary<string, double> byName = [];

    public double Note(string name, double deviation)
    {
        lock (byName)
        {
            return byName[name] = Math.Max(deviation, byName.GetValueOrDefault(name));
        }
    }
}
