package android.app;

import android.content.Context;
import android.content.Intent;
import android.view.KeyEvent;
import java.util.ArrayList;
import java.util.List;

public abstract class Activity extends Context {
    /** Keys that nobody took: the system has them. */
    public final List<Integer> left = new ArrayList<>();

    public abstract void startActivityForResult(Intent intent, int request);

    public boolean dispatchKeyEvent(KeyEvent event) {
        left.add(event.getKeyCode());
        return false;
    }
}
