namespace DecayAtlas.Questions.Answers;

/// <summary>What a question is asked of.</summary>
public enum AskedOf
{
    /// <summary>The decay rate k, compared as ratios: on ln k.</summary>
    Rate,

    /// <summary>The stabilisation factor S, compared as differences.</summary>
    Stabilisation,
}

/// <summary>How it is spelled on the command line, in tables and in sentences.</summary>
public static class AskedOfNames
{
    public static IReadOnlyList<string> Codes { get; } = ["k", "s"];

    /// <exception cref="ConfigurationException">Neither k nor s.</exception>
    public static AskedOf Parse(string code) => code switch
    {
        "k" => AskedOf.Rate,
        "s" => AskedOf.Stabilisation,
        _ => throw new ConfigurationException($"--of is {code}, expected k (decay rate) or s (stabilisation factor)."),
    };

    public static string Code(this AskedOf of) => of == AskedOf.Rate ? "k" : "s";

    /// <summary>What maps and predictions of it are.</summary>
    public static MapQuantity Quantity(this AskedOf of) => of == AskedOf.Rate ? MapQuantity.DecayRate : MapQuantity.Stabilisation;

    /// <summary>As it is written in a sentence.</summary>
    public static string Symbol(this AskedOf of) => of == AskedOf.Rate ? "k" : "S";

    /// <summary>What the model is of.</summary>
    public static string Scale(this AskedOf of) => of == AskedOf.Rate ? "ln k" : "S";
}
