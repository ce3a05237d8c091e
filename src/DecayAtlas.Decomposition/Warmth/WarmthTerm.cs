namespace DecayAtlas.Decomposition.Warmth;

/// <summary>The temperature responses offered; each is linear in ln k.</summary>
public enum WarmthForm
{
    /// <summary><c>ln k = a + T ln(Q10)/10</c> (van 't Hoff 1898).</summary>
    Q10,

    /// <summary><c>ln k = a - E/(R (T + 273.15))</c>, E in kJ mol⁻¹, R = 8.314462618 J mol⁻¹ K⁻¹ (Arrhenius 1889).</summary>
    Arrhenius,

    /// <summary><c>ln k = a + E0 (1/56.02 - 1/(T + 46.02))</c>, E0 in K; 308.56 in the source (Lloyd and Taylor 1994, Functional Ecology
    /// 8:315-323, from memory).</summary>
    LloydTaylor,
}

/// <summary>How moisture enters ln k.</summary>
public enum MoistureTerm
{
    None,
    Linear,

    /// <summary>With an optimum.</summary>
    Quadratic,
}

/// <summary>The column that a <see cref="WarmthForm"/> puts beside ln k, and what its coefficient says.</summary>
public static class WarmthTerm
{
    private const double GasConstant = 8.314462618e-3;    // kJ mol⁻¹ K⁻¹ (CODATA 2018)

    /// <summary>Zero at 10 °C, so that the constant beside it is ln k there; its coefficient is ln Q10, E (kJ mol⁻¹) or E0 (K).</summary>
    /// <param name="celsius">Above <see cref="ColdestCelsius"/>.</param>
    public static double Of(WarmthForm form, double celsius) => form switch
    {
        WarmthForm.Q10 => (celsius - 10) / 10,
        WarmthForm.Arrhenius => (1 / 283.15 - 1 / (celsius + 273.15)) / GasConstant,
        _ => 1 / 56.02 - 1 / (celsius + 46.02),
    };

    /// <summary>As it is told.</summary>
    public static string NameOf(WarmthForm form) => form switch
    {
        WarmthForm.Q10 => "q10",
        WarmthForm.Arrhenius => "arrhenius",
        _ => "lloyd-taylor",
    };

    /// <summary>By its name; missing for another.</summary>
    public static WarmthForm? FormOf(string? name) =>
        Enum.GetValues<WarmthForm>().Select(f => (WarmthForm?)f).FirstOrDefault(f => NameOf(f!.Value) == name);

    /// <summary>Where the form ends.</summary>
    public static double ColdestCelsius(WarmthForm form) => form == WarmthForm.LloydTaylor ? -46.02 : -273.15;
}
