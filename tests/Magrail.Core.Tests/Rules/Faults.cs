namespace Magrail.Tests.Rules;

/// <summary>Fails with every fault on a line of its own.</summary>
public static class Faults
{
    public static void None(IEnumerable<string> faults)
    {
        string[] all = [.. faults];
        Assert.True(all.Length == 0, $"{all.Length} faults:\n{string.Join('\n', all)}");
    }
}
