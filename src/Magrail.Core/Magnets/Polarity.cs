namespace Magrail;

/// <summary>Which way round a station's magnets stand.</summary>
public enum Polarity
{
    /// <summary>As described: magnetized along the positive axis.</summary>
    Positive,

    /// <summary>Turned round: every magnetization of the station reversed.</summary>
    Negative,
}
