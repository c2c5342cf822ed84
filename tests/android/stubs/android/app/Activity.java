package android.app;

import android.content.Context;
import android.content.Intent;

public abstract class Activity extends Context {
    public abstract void startActivityForResult(Intent intent, int request);
}
