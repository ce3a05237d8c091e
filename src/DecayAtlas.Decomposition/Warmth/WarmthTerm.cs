namespace DecayAtlas.Decomposition.Warmth;

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

    /// <summary>Where the form ends.</summary>
    public static double ColdestCelsius(WarmthForm form) => form == WarmthForm.LloydTaylor ? -46.02 : -273.15;
}
