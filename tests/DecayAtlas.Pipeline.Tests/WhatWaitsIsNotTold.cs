using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>Advice on pages that may be public never repeats what stood in a cell of a contribution that was set aside.</summary>
public class WhatWaitsIsNotTold
{
    [Theory]
    [InlineData(FindingCode.DecimalComma, "\"47,31025\"", "write 47.31025, or save the file again with a decimal point", true)]
    [InlineData(FindingCode.RowsDisagree, "\"x\"", "\"47.31025\", as row 3 says of the same site", true)]
    [InlineData(FindingCode.OutOfRange, "\"947.3\"", "a number from -360 to 360 in degrees", false)]
    [InlineData(FindingCode.NotAllowed, "\"forrest\"", "write forest, if that was meant", false)]
    [InlineData(FindingCode.NotADate, "\"3/4/2024\"", "a date written YYYY-MM-DD", false)]
    public void Advice_that_repeats_a_value_is_told_apart(string code, string found, string advice, bool tells)
    {
        Assert.Equal(tells, PagesStage.TellsWhatWasFound(new Finding(code, "sites.csv", 2, "decimal_latitude", found, "", ""), advice));
    }
}
